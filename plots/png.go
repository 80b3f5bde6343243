package plots

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"io"
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

const (
	pngDPI = 200
	svgDPI = 96 // of a CSS pixel, in which charts are laid out
)

// PNG writes the chart as a PNG of 200 dots per inch, as wide in print as the
// SVG is in a browser. Letters that the built-in face lacks come out as boxes.
func (c Chart) PNG(w io.Writer) error {
	b, err := c.raster(pngDPI * float64(vg.Inch.Points()) / svgDPI)
	if err != nil {
		return err
	}
	_, err = w.Write(withDensity(b, pngDPI))
	return err
}

// raster draws the chart with so many dots to 72 of its units.
func (c Chart) raster(dpi float64) ([]byte, error) {
	width, height := c.size()
	img := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(int(dpi)))
	c.paint(draw.New(img))
	var b bytes.Buffer
	_, err := vgimg.PngCanvas{Canvas: img}.WriteTo(&b)
	return b.Bytes(), err
}

// withDensity adds the pHYs chunk, dots per metre, behind the header chunk
// (PNG specification, 11.3.4.3).
func withDensity(b []byte, dpi float64) []byte {
	const header = 8 + 8 + 13 + 4 // signature, then length, type, data and check sum of IHDR
	perMetre := uint32(dpi/0.0254 + 0.5)
	data := binary.BigEndian.AppendUint32([]byte("pHYs"), perMetre)
	data = binary.BigEndian.AppendUint32(data, perMetre)
	data = append(data, 1) // the unit is the metre
	out := append(bytes.Clone(b[:header]), 0, 0, 0, 9)
	out = append(out, data...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(data))
	return append(out, b[header:]...)
}

// boxed puts a box in the place of each letter that the face lacks, so that it
// is seen that something is not there.
func boxed(text string, f font.Face) string {
	var b sfnt.Buffer
	return strings.Map(func(r rune) rune {
		if at, err := f.Face.GlyphIndex(&b, r); err == nil && at > 0 {
			return r
		}
		if !unicode.IsGraphic(r) || unicode.Is(unicode.M, r) {
			return -1
		}
		return '□'
	}, text)
}
