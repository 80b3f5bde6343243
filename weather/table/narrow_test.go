package table

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// The text form of a narrowed table is as wide as Width says, no wider than
// asked where names can be cut, and two names keep their ends apart.
func TestNarrow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := New("x", "rank", "line", "planting", "verdict")
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			name := rapid.StringOfN(rapid.RuneFrom([]rune("aÄ-大\u0301\t…")), 0, 60, -1)
			whole.Add(Int(1), Text(name.Draw(t, "line")), Text(name.Draw(t, "planting")), Text("not known yet"))
		}
		narrow := whole.Narrow(40, "line", "planting")
		if narrow.Width() > 40 || narrow.Width() > whole.Width() || whole.Width() <= 40 && narrow.Width() != whole.Width() {
			t.Fatalf("%d columns of %d", narrow.Width(), whole.Width())
		}
		var b bytes.Buffer
		if err := narrow.Text(&b); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if !utf8.ValidString(line) || displayWidth(line) > 40 {
				t.Fatalf("%q takes %d columns", line, displayWidth(line))
			}
		}
	})
	cut := New("x", "line")
	cut.Add(Text("a long family name 17"))
	cut.Add(Text("a long family name 18"))
	cut = cut.Narrow(12, "line")
	if a, b := cut.Rows[0][0].text, cut.Rows[1][0].text; a != "a long…me 17" || b != "a long…me 18" {
		t.Errorf("cut to %q and %q", a, b)
	}
}

func TestWithout(t *testing.T) {
	whole := New("x", "a", "b", "c")
	whole.Add(Int(1), Int(2), Int(3))
	left := whole.Without("b", "none")
	if strings.Join(left.Columns, " ") != "a c" || left.Rows[0][1] != Int(3) || len(whole.Columns) != 3 {
		t.Errorf("left %v %v of %v", left.Columns, left.Rows, whole.Columns)
	}
}
