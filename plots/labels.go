package plots

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/width"
	"gonum.org/v1/plot/vg"
)

// slack is how much wider than measured a reader's font may be before labels
// touch.
const slack = 1.12

// room gives the width that text may need: measured, with slack; letters that
// the measuring face lacks count as full squares.
func (l lettering) room(text string) vg.Length {
	f := l.face()
	var sum vg.Length
	known := strings.Map(func(r rune) rune {
		if r < 0x0590 || (r >= 0x2000 && r < 0x2300) {
			return r
		}
		if k := width.LookupRune(r).Kind(); k == width.EastAsianWide || k == width.EastAsianFullwidth {
			sum += l.size
		} else {
			sum += 0.75 * l.size
		}
		return -1
	}, text)
	return slack * (sum + f.Width(known))
}

// cut shortens text to the width w, with an ellipsis where something is lost.
func (l lettering) cut(text string, w vg.Length) string {
	if l.room(text) <= w {
		return text
	}
	letters := []rune(text)
	letters = letters[:min(len(letters), int(w/l.size*8)+1)]
	for n := len(letters) - 1; n > 0; n-- {
		s := strings.TrimRightFunc(string(letters[:n]), unicode.IsSpace) + "…"
		if l.room(s) <= w {
			return s
		}
	}
	return "…"
}

// cutName shortens a name in its middle, since the ends of breeding lines'
// names tell them apart.
func (l lettering) cutName(name string, w vg.Length) string {
	if l.room(name) <= w {
		return name
	}
	letters := []rune(name)
	for keep := min(len(letters)-1, int(w/l.size*8)+1); keep > 1; keep-- {
		tail := keep * 2 / 5
		s := strings.TrimSpace(string(letters[:keep-tail])) + "…" + strings.TrimSpace(string(letters[len(letters)-tail:]))
		if l.room(s) <= w {
			return s
		}
	}
	return "…"
}

// wrapName breaks a name at spaces into at most two lines; one that does not
// fit is cut in its middle.
func (l lettering) wrapName(name string, w vg.Length) []string {
	lines := l.wrap(name, w, 3)
	if len(lines) == 1 && !strings.HasSuffix(lines[0], "…") {
		return lines
	}
	if len(lines) == 2 && !strings.Contains(lines[0]+lines[1], "…") {
		return lines
	}
	return []string{l.cutName(name, w)}
}

// wrap breaks text at spaces into lines of at most the width w; the last of
// at most most lines is cut.
func (l lettering) wrap(text string, w vg.Length, most int) []string {
	var out []string
	line := ""
	words := glued(strings.Fields(text))
	for i, word := range words {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line == "" || l.room(next) <= w {
			line = next
			continue
		}
		if len(out) == most-1 {
			return append(out, l.cut(line+" "+strings.Join(words[i:], " "), w))
		}
		out = append(out, l.cut(line, w))
		line = word
	}
	return append(out, l.cut(line, w))
}

// glued joins units to the numbers before them, so that no line ends between.
func glued(words []string) []string {
	var out []string
	for _, word := range words {
		switch strings.TrimRight(word, ".,;:)") {
		case "%", "g", "cm", "°C":
			if n := len(out); n > 0 {
				out[n-1] += " " + word
				continue
			}
		}
		out = append(out, word)
	}
	return out
}

// plain makes text fit to be drawn: one line, no control or direction-changing
// characters, nothing that XML forbids.
func plain(text string) string {
	text = strings.ToValidUTF8(text, "\uFFFD")
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), r >= 0x202A && r <= 0x202E, r >= 0x2066 && r <= 0x2069,
			r == 0x200E, r == 0x200F, r == 0xFFFE, r == 0xFFFF:
			return -1
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// isolated keeps a name with right-to-left letters from reordering the text
// around it.
func isolated(name string) string {
	if hasRightToLeft(name) {
		return "\u2068" + name + "\u2069"
	}
	return name
}

func hasRightToLeft(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		p, _ := bidi.LookupRune(r)
		return p.Class() == bidi.R || p.Class() == bidi.AL
	})
}

// visual puts text in the order in which its letters stand from left to right,
// for canvases that know no other; the marks that isolate a name are dropped.
func visual(text string) string {
	text = strings.NewReplacer("\u2068", "", "\u2069", "").Replace(text)
	var p bidi.Paragraph
	if _, err := p.SetString(text, bidi.DefaultDirection(bidi.LeftToRight)); err != nil || !hasRightToLeft(text) {
		return text
	}
	order, err := p.Order()
	if err != nil {
		return text
	}
	var b strings.Builder
	for i := range order.NumRuns() {
		run := order.Run(i)
		if s := run.String(); run.Direction() == bidi.RightToLeft {
			b.WriteString(bidi.ReverseString(s))
		} else {
			b.WriteString(s)
		}
	}
	return b.String()
}

// spread moves the centres of labels of the given heights apart, keeping their
// order and staying between low and high where they fit.
func spread(centres, heights []vg.Length, low, high vg.Length) []vg.Length {
	order := make([]int, len(centres))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case centres[a] < centres[b]:
			return -1
		case centres[a] > centres[b]:
			return 1
		}
		return 0
	})
	out := slices.Clone(centres)
	floor := low
	for _, i := range order {
		out[i] = max(out[i], floor+heights[i]/2)
		floor = out[i] + heights[i]/2
	}
	ceiling := high
	for _, i := range slices.Backward(order) {
		out[i] = min(out[i], ceiling-heights[i]/2)
		ceiling = out[i] - heights[i]/2
	}
	return out
}
