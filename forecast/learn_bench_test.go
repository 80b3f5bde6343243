package forecast

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"wintertop/weather"
)

// bigTrial is a made trial of some lines on 72 winters of invented weather, the
// last five of them with notes, two plots, eight notes a plot and winter; as of
// a day in the last one's autumn.
func bigTrial(lines int) (*Trial, weather.Date) {
	const first, winters, noted = 1951, 73, 5
	m := usualTrial(lines, noted)
	rng := rand.New(rand.NewPCG(11, 5))
	trial, _ := m.build(rng, inventedWeather(rng, first, winters), first+winters-noted)
	asOf := weather.NewDate(first+winters-1, 11, 20)
	p := trial.Places[0]
	for i, d := range p.Record.Days {
		if d.Date > asOf {
			p.Record.Days, p.Filled.Days = p.Record.Days[:i], p.Filled.Days[:i]
			break
		}
	}
	kept := trial.Notes[:0]
	for _, n := range trial.Notes {
		if n.Date <= asOf {
			kept = append(kept, n)
		}
	}
	trial.Notes = kept
	return trial, asOf
}

// forLines runs a benchmark at several sizes of trial.
func forLines(b *testing.B, sizes []int, run func(b *testing.B, trial *Trial, asOf weather.Date)) {
	for _, lines := range sizes {
		trial, asOf := bigTrial(lines)
		b.Run(fmt.Sprintf("%d lines", lines), func(b *testing.B) {
			b.ReportAllocs()
			run(b, trial, asOf)
		})
	}
}

// The canopy runs once per winter however many lines there are; what grows with
// them is the weighing.
func BenchmarkLearn(b *testing.B) {
	forLines(b, []int{6, 60, 120, 600}, func(b *testing.B, trial *Trial, _ weather.Date) {
		for b.Loop() {
			if _, _, err := Learn(context.Background(), trial); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// 72 past winters played forward from 20 November to 15 March, learning not
// counted.
func BenchmarkPick(b *testing.B) { benchmarkLook(b, []int{6, 60, 600}, WantPicks) }

func BenchmarkSeason(b *testing.B) { benchmarkLook(b, []int{6, 60}, WantSeason) }

func benchmarkLook(b *testing.B, sizes []int, want Want) {
	forLines(b, sizes, func(b *testing.B, trial *Trial, asOf weather.Date) {
		l, _, err := Learn(context.Background(), trial)
		if err != nil {
			b.Fatal(err)
		}
		winter := weather.WinterOf(asOf, false)
		goal := Goal{Winter: winter, AsOf: asOf, From: weather.NewDate(winter.Year+1, 2, 1), To: weather.NewDate(winter.Year+1, 3, 15), Want: want}
		for b.Loop() {
			if _, _, err := Look(context.Background(), trial, l, goal); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// Four leads of the winters with notes, each from all others; learning with all
// notes not counted.
func BenchmarkVerify(b *testing.B) {
	forLines(b, []int{6, 60}, func(b *testing.B, trial *Trial, _ weather.Date) {
		l, _, err := Learn(context.Background(), trial)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			_, _, err := Verify(context.Background(), trial, l, func(w weather.WinterYear) (from, to weather.Date) {
				return weather.NewDate(w.Year+1, 2, 1), weather.NewDate(w.Year+1, 3, 15)
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	})
}
