package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

// sixtyTied are sixty rows that cannot be told apart, each cell as long as it
// can be.
func sixtyTied(name string, plantings int) *forecast.Picks {
	p := &forecast.Picks{AsOf: weather.NewDate(2025, 12, 1), To: weather.NewDate(2026, 3, 15)}
	for i := range 60 {
		r := forecast.Pick{Rank: i + 1, Line: fmt.Sprintf("%s %02d", name, i/plantings), Planting: fmt.Sprintf("25-%s-%02d", name, i), Verdict: forecast.NotKnownYet,
			HoldsFrom: p.AsOf, HoldsUntil: p.To, HasHold: true, ShadedUntil: p.To, HasShaded: true, ChanceBest: 1.0 / 60, LeafEndG: 12.3, Winters: 72,
			Basis: forecast.FromNotes, Reason: "no notes of this line", Dates: []forecast.PickDate{{Date: p.To, All: 0.8, FitDaysLeft: math.NaN()}}}
		for k := range 60 {
			if k != i && (k%2 == 0 || i > 30) {
				r.Tied = append(r.Tied, k+1)
			}
		}
		p.Rows = append(p.Rows, r)
	}
	return p
}

func TestPrintedPickFits(t *testing.T) {
	for _, name := range []string{"A", "BRN", "a family with quite a long name", "大きな", "<b>&=1+1"} {
		for _, plantings := range []int{1, 2} {
			p := sixtyTied(name, plantings)
			for what, short := range map[string]*table.Table{
				"pick":  shortPick(p),
				"since": shortSince(forecast.SinceTable([]*forecast.Picks{p}, []*forecast.Picks{p})),
			} {
				if w := short.Width(); w > pickColumns {
					t.Errorf("%s of %q takes %d columns", what, name, w)
				}
				var b bytes.Buffer
				if err := short.Text(&b); err != nil {
					t.Fatal(err)
				}
				if lines := strings.Count(b.String(), "\n"); lines != 61 {
					t.Errorf("%s of %q: %d lines, want a header and 60 rows", what, name, lines)
				}
			}
		}
	}
	// What fits is left as it is.
	small := sixtyTied("A", 1)
	small.Rows = small.Rows[:3]
	for i := range small.Rows {
		small.Rows[i].Tied = forecast.Ranks{2, 3}
	}
	var b bytes.Buffer
	if err := shortPick(small).Text(&b); err != nil {
		t.Fatal(err)
	}
	if text := b.String(); strings.Contains(text, "…") || !strings.Contains(text, "shaded_until") || !strings.Contains(text, " A 02 ") {
		t.Errorf("a small pick is cut:\n%s", text)
	}
}

// Two places make two tables in text, one in the other forms.
func TestTwoPlacesPrintTwoTables(t *testing.T) {
	a, b := sixtyTied("A", 1), sixtyTied("B", 1)
	a.Place, b.Place = "marsh", "ridge"
	a.Rows, b.Rows = a.Rows[:2], b.Rows[:2]
	both := []*forecast.Picks{a, b}
	o := &outcome{table: forecast.PickTable(both), text: perPlace(both, shortPick), after: []string{"Cautions."}}
	printed := func(format string) string {
		var out bytes.Buffer
		if err := printTable(&out, format, o); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	text := printed("text")
	if strings.Count(text, "rank  line") != 2 || strings.Contains(text, "place") {
		t.Errorf("text form:\n%s", text)
	}
	first, second := strings.Index(text, "marsh: "), strings.Index(text, "ridge: ")
	if header := strings.Index(text[max(0, first):], "rank"); first < 0 || second < first || header > second-first {
		t.Errorf("each place wants its answer above its table:\n%s", text)
	}
	for _, format := range []string{"csv", "json"} {
		if s := printed(format); strings.Count(s, "marsh") != 2 || strings.Count(s, "ridge") != 2 || strings.Contains(s, "Cautions") {
			t.Errorf("%s form:\n%s", format, s)
		}
	}
}
