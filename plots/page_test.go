package plots

import (
	"bytes"
	"html"
	"regexp"
	"strings"
	"testing"
)

func written(t *testing.T, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.HTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestPageIsOneSafeFile(t *testing.T) {
	for _, n := range []int{0, 1, 8} {
		p := page(n, november, true)
		text := written(t, p)
		for _, bad := range []string{"<script", "<b>", "<i>", "NaN", "javascript:", "@import", "url(", "ZgotmplZ", "onload"} {
			if strings.Contains(text, bad) {
				t.Errorf("%d lines: the page holds %s", n, bad)
			}
		}
		outside := strings.ReplaceAll(text, `xmlns="http://www.w3.org/2000/svg"`, "")
		for _, address := range []string{"http:", "https:", `src="`, `href="//`} {
			if strings.Contains(outside, address) {
				t.Errorf("%d lines: the page holds %s", n, address)
			}
		}
		plainText := html.UnescapeString(text)
		for _, r := range p.Picks[0].Rows {
			if !strings.Contains(plainText, plain(r.Line)) {
				t.Errorf("%d lines: %q is not named", n, r.Line)
			}
		}
		seen := map[string]bool{}
		for _, m := range regexp.MustCompile(`\bid="([^"]*)"`).FindAllStringSubmatch(text, -1) {
			if seen[m[1]] {
				t.Errorf("%d lines: id %s twice", n, m[1])
			}
			seen[m[1]] = true
		}
		for _, m := range regexp.MustCompile(`href="#([^"]*)"`).FindAllStringSubmatch(text, -1) {
			if !seen[m[1]] {
				t.Errorf("%d lines: link to #%s leads nowhere", n, m[1])
			}
		}
	}
}

// The contents list the sections as they come.
func TestContentsAreInOrder(t *testing.T) {
	contents, body, _ := strings.Cut(written(t, page(4, november, false)), "</nav>")
	at := -1
	for _, m := range regexp.MustCompile(`href="#([^"]*)"`).FindAllStringSubmatch(contents, -1) {
		next := strings.Index(body, `<section id="`+m[1]+`"`)
		if next <= at {
			t.Errorf("section %s is missing or comes before the one listed before it", m[1])
		}
		at = next
	}
}

func TestPageCanBeReadAloud(t *testing.T) {
	text := written(t, page(8, november, false))
	level := 0
	for i, m := range regexp.MustCompile(`<h([1-6])[ >]`).FindAllStringSubmatch(text, -1) {
		next := int(m[1][0] - '0')
		if (next == 1) != (i == 0) || next > level+1 {
			t.Errorf("heading %d: level %d after %d", i+1, next, level)
		}
		level = next
	}
	if level == 0 {
		t.Error("no headings")
	}
	for _, th := range regexp.MustCompile(`<th[ >][^>]*`).FindAllString(text, -1) {
		if !strings.Contains(th, `scope="`) {
			t.Errorf("%s> has no scope", th)
		}
	}
	for _, svg := range regexp.MustCompile(`<svg [^>]*>\n<title[^>]*>[^<]+</title>\n<desc[^>]*>[^<]+</desc>`).FindAllString(text, -1) {
		if !strings.Contains(svg, `role="img"`) || !strings.Contains(svg, "aria-labelledby") {
			t.Errorf("%s: no role or label", svg)
		}
	}
	if got, want := strings.Count(text, "<title id"), strings.Count(text, "<svg ")-strings.Count(text, `<svg aria-hidden="true"`); got != want || want < 10 {
		t.Errorf("%d of %d pictures have a title", got, want)
	}
	for _, want := range []string{`<html lang="en">`, `name="viewport"`, "prefers-color-scheme:dark", "@media print"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s", want)
		}
	}
}

func TestPageSaysWhatMatters(t *testing.T) {
	p := page(8, november, false)
	text := html.UnescapeString(written(t, p))
	rows := p.Picks[0].Rows
	for _, want := range []string{
		"Invented Valley <1> & Co", "15 Nov 2012", "2012/13", "0.1.0", // the head
		"Lift " + rows[7].Line + " by " + dayMonth(rows[7].HoldsUntil) + ", then ",
		"leave standing through the window: " + rows[0].Line,
		"weigh tops of " + rows[4].Line,
		"trial/station.csv:40: ", "And 7 more", // findings
		"23 earlier winters are in winters.csv", "Coldest air, °C", "−9.3", "hardier to the right",
		"Rot, bolting, sprouting, size and taste",
		"Nothing is known of " + rows[4].Line + ": weigh", "Close to the wanted 80 % on 15 Mar", "last weighed on 14 Nov",
		"constant 17", "leaf enough for a test",
		"maim: stop and isolate before clearing", "ruts and overturns", "local rules and licensed advice", "never replaces walking the field",
		"Not known: fit days",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	at := -1
	for _, section := range []string{"answer", "calendar", "leaf", "shade", "winter", "traits", "trust", "measure", "station", "constants", "limits", "cautions"} {
		next := strings.Index(text, `<section id="`+section+`"`)
		if next <= at {
			t.Errorf("section %s is missing or out of order", section)
		}
		at = max(at, next)
	}
}

func TestPageWithLittle(t *testing.T) {
	if text := written(t, Page{}); !strings.Contains(text, "Cautions") {
		t.Error("an empty page loses its cautions")
	}
	p := page(2, november, false)
	q := page(3, november, false)
	p.Seasons[0].Place, p.Picks[0].Place = "North field", "North field"
	q.Seasons[0].Place, q.Picks[0].Place = "South <field>", "South <field>"
	p.Seasons, p.Picks = append(p.Seasons, q.Seasons...), append(p.Picks, q.Picks...)
	p.Winters, p.Lines, p.Constants, p.Findings = nil, nil, nil, nil
	text := html.UnescapeString(written(t, p))
	for _, want := range []string{"North field, South <field>", "<h3><bdi>South <field></bdi></h3>", "Nothing to remark"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
}
