package plots

import (
	"bytes"
	"encoding/binary"
	"image/png"
	"testing"
)

func TestPNGHasItsDensity(t *testing.T) {
	c := Traits(learned(3))
	var b bytes.Buffer
	if err := c.PNG(&b); err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(b.Bytes(), []byte("pHYs"))
	if at < 0 {
		t.Fatal("no pHYs chunk")
	}
	const perMetre = 7874 // 200 / 0.0254
	if x := binary.BigEndian.Uint32(b.Bytes()[at+4:]); x != perMetre {
		t.Errorf("%d dots per metre", x)
	}
	img, err := png.Decode(&b) // checks the check sums
	if err != nil {
		t.Fatal(err)
	}
	width, height := c.size()
	size := img.Bounds().Size()
	if want := int(width) * 200 / 96; size.X != want {
		t.Errorf("%d wide, want %d", size.X, want)
	}
	if want := height.Points() * 200 / 96; float64(size.Y) < want-1 || float64(size.Y) > want+1 {
		t.Errorf("%d high, want %.1f", size.Y, want)
	}
}
