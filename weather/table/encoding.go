package table

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// largestInput bounds a file after decompression: two centuries of daily rows
// with all the columns of a national service are below 30 MB.
const largestInput = 64 << 20

// readText gives the whole input as UTF-8 with LF line ends, whatever it was:
// compressed, UTF-16, Windows-1252, CRLF. Faults come as *InputError, trouble
// with the reader as it is.
func readText(r io.Reader, name string) (string, error) {
	raw, err := readAll(r, name)
	if err != nil {
		return "", err
	}
	if bytes.HasPrefix(raw, []byte{0x1f, 0x8b}) {
		if raw, err = gunzip(raw, name); err != nil {
			return "", err
		}
	}
	if bytes.HasPrefix(raw, []byte("PK\x03\x04")) || bytes.HasPrefix(raw, []byte{0xd0, 0xcf, 0x11, 0xe0}) {
		return "", refused(name, 0, "is a spreadsheet workbook or an archive, not a CSV file", "save the sheet as CSV and give that file")
	}
	text, err := decodeText(raw)
	if err != nil {
		return "", refused(name, 0, "cannot be read as text: "+err.Error(), "save it as CSV in UTF-8")
	}
	if at := strings.IndexByte(text, 0); at >= 0 {
		line := 1 + strings.Count(text[:at], "\n")
		return "", refused(name, line, "holds a NUL byte, so it is no text file or a damaged one", "save it again as CSV in UTF-8")
	}
	return text, nil
}

func refused(name string, line int, what, hint string) error {
	return &InputError{Findings{{File: name, Line: line, What: what, TreatedAs: "refused", Hint: hint, Severity: Fault}}}
}

func readAll(r io.Reader, name string) ([]byte, error) {
	raw, err := io.ReadAll(io.LimitReader(r, largestInput+1))
	if err == nil && len(raw) > largestInput {
		return nil, refused(name, 0, fmt.Sprintf("holds more than %d MB", largestInput>>20), "give one place and only the columns that are needed")
	}
	return raw, err
}

func gunzip(raw []byte, name string) ([]byte, error) {
	const hint = "fetch or compress the file again"
	unpack, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		return nil, refused(name, 0, "the compressed file is damaged: "+err.Error(), hint)
	}
	plain, err := readAll(unpack, name)
	var tooLarge *InputError
	if err != nil && !errors.As(err, &tooLarge) {
		return nil, refused(name, 0, "the compressed file is damaged: "+err.Error(), hint)
	}
	return plain, err
}

func decodeText(raw []byte) (string, error) {
	order, wide := wideWithoutMark(raw)
	if !wide && utf8.Valid(raw) && !bytes.HasPrefix(raw, []byte(byteOrderMark)) {
		return lineFeeds(string(raw)), nil
	}
	decoder := unicode.BOMOverride(encoding.Nop.NewDecoder())
	if wide {
		decoder = unicode.UTF16(order, unicode.IgnoreBOM).NewDecoder()
	}
	decoded, _, err := transform.Bytes(decoder, raw)
	if err != nil {
		return "", err
	}
	text := string(decoded)
	if !utf8.ValidString(text) {
		text = mendBytes(text)
	}
	return lineFeeds(text), nil
}

const byteOrderMark = "\ufeff"

func lineFeeds(text string) string {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n")
}

// wideWithoutMark recognises UTF-16 that lacks its byte order mark: in a CSV
// file nearly every other byte is then zero.
func wideWithoutMark(raw []byte) (unicode.Endianness, bool) {
	head := raw[:min(len(raw), 1024)]
	if len(head) < 8 || bytes.HasPrefix(raw, []byte{0xff, 0xfe}) || bytes.HasPrefix(raw, []byte{0xfe, 0xff}) {
		return unicode.LittleEndian, false
	}
	var zeros [2]int
	for i, b := range head {
		if b == 0 {
			zeros[i%2]++
		}
	}
	switch most := len(head) / 4; {
	case zeros[1] > most && zeros[0] == 0:
		return unicode.LittleEndian, true
	case zeros[0] > most && zeros[1] == 0:
		return unicode.BigEndian, true
	}
	return unicode.LittleEndian, false
}

// mendBytes reads each byte that is no UTF-8 as Windows-1252, so a degree sign
// from an old spreadsheet does no harm to the rest of the file.
func mendBytes(s string) string {
	var b strings.Builder
	b.Grow(len(s) + len(s)/16)
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && size == 1 {
			r = charmap.Windows1252.DecodeByte(s[i])
		}
		b.WriteRune(r)
		i += size
	}
	return b.String()
}
