package plots

import (
	"strings"
	"testing"

	"wintertop/forecast"
	"wintertop/weather"
)

func TestShadeWords(t *testing.T) {
	for _, c := range []struct {
		light func(d weather.Date) float64
		want  string
	}{
		{func(weather.Date) float64 { return 0.35 }, "shaded to 31 Mar"},
		{func(weather.Date) float64 { return 0.36 }, "not shaded"},
		{func(d weather.Date) float64 {
			if d < weather.NewDate(2013, 1, 3) {
				return 0.1
			}
			return 0.5
		}, "open from 3 Jan"},
		{func(d weather.Date) float64 {
			if d < november {
				return 0.1
			}
			return 0.5
		}, "open on 15 Nov"},
	} {
		s := season(1, november)
		days := s.Plantings[0].Days
		for i := range days {
			days[i].GroundLight, days[i].WeedCover = c.light(days[i].Date), 0.126
		}
		l := seriesOf(s)[0]
		if got := shadeWords(s, l); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
		if got := shadeSentence(s, l); !strings.Contains(got, "weeds cover 13 % of the ground on 31 Mar.") {
			t.Errorf("%q", got)
		}
		if got := shadingOf(s, days[:20]); got.ok {
			t.Errorf("%s: a stretch without days", c.want)
		}
	}
}

func TestShadeOfManySaysWhichOpensFirst(t *testing.T) {
	s := season(5, november)
	for i := range s.Plantings {
		for j := range s.Plantings[i].Days {
			d := &s.Plantings[i].Days[j]
			d.GroundLight, d.WeedCover = 0.2, 0.1*float64(i)
			if i == 2 && d.Date >= weather.NewDate(2013, 2, 4) || i == 3 && d.Date >= weather.NewDate(2013, 1, 9) {
				d.GroundLight = 0.6
			}
		}
	}
	c := Shade(s)
	mustDraw(t, c, nil)
	want := "From 15 Nov to 31 Mar the median light at the ground stays at or below 35 % for 3 of 5 plantings; the first to open is Line D10, on 9 Jan. " +
		"On 31 Mar weeds cover most under Line E13, 40 % of the ground."
	if c.Finding != want {
		t.Errorf("%q, want %q", c.Finding, want)
	}
}

func TestManyPlantingsAreAllPrinted(t *testing.T) {
	s := season(30, november)
	large, rest := largest(s, seriesOf(s))
	if len(large) != largeOfMany || len(large)+len(rest) != 30 {
		t.Fatalf("%d large, %d in rows", len(large), len(rest))
	}
	for i, l := range large {
		if l.check != (i < largeChecks) {
			t.Errorf("large %d is %s", i, l.name)
		}
	}
	for _, l := range rest {
		least := lowOf(s, large[len(large)-1].days).least.LeafG
		if !l.check && lowOf(s, l.days).least.LeafG > least {
			t.Errorf("%s has more leaf than the large ones", l.name)
		}
	}
	all := ""
	for _, x := range mustDraw(t, LeafMass(s), nil).texts {
		all += "|" + x.text
	}
	_, f, _ := leafChart(s)
	rows := leafRows(f, rest)
	for _, l := range rest {
		want := l.name
		for _, d := range rows.dates() {
			value, known := onDay(l.days, d, leafG)
			if !known {
				t.Fatal(d)
			}
			want += "|" + rows.print(value)
			if float64(rows.class(value)) > 0 != (value >= s.GripG) {
				t.Errorf("%.2f g: class %d", value, rows.class(value))
			}
		}
		if !strings.Contains(all, want) {
			t.Errorf("%s is not printed", want)
		}
	}
}

func TestNotesAreDrawnWhereTheyStand(t *testing.T) {
	count := func(trait forecast.Trait) int {
		s := season(1, november)
		var kept []forecast.NotePoint
		for _, n := range s.Plantings[0].Notes {
			if n.Trait != string(trait) {
				kept = append(kept, n)
			}
		}
		s.Plantings[0].Notes = kept
		return strings.Count(string(draws(t, Shade(s)).raw), "<path")
	}
	all := count("none")
	for _, trait := range []forecast.Trait{forecast.WeedCover, forecast.GroundCover} {
		if got := count(trait); got >= all {
			t.Errorf("without %s as many signs: %d", trait, got)
		}
	}
	if got := count(forecast.TopHeight); got != all {
		t.Error("heights are drawn among shade")
	}
}
