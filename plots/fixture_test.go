package plots

import (
	"fmt"
	"math"

	"wintertop/forecast"
	"wintertop/weather"
	"wintertop/weather/table"
)

// All seasons and picks below are invented: plausible shapes, no model.

var hostile = []string{
	`<b>bold</b> & "quoted" 'line'`,
	"=1+1",
	"A line whose breeder never tired of adding selection steps to its name, 2011-4-17-B-2 × 88/301",
	"שורה מימין לשמאל",
	"]]><script>alert(1)</script>",
	"Tab\there\nand\x00null",
	"Unbrokennamewithoutanyspaceinitwhatsoeverthatgoesonandonandon",
	"線の名前",
}

func lineName(i int) string { return fmt.Sprintf("Line %c%02d", 'A'+i%7, 3*i+1) }

// season invents one winter of n plantings, observed up to asOf.
func season(n int, asOf weather.Date) *forecast.Season {
	w := weather.WinterYear{Year: 2012}
	s := &forecast.Season{Winter: w, AsOf: asOf, Traces: 34, GripG: 6, ShadeLimit: 0.35, BeltCM: 20}
	first, last := weather.NewDate(2012, 7, 17), w.Last()
	if asOf >= last {
		s.Traces = 0
	}
	frosts := []struct {
		day    weather.Date
		nights int
		cold   float64
	}{
		{weather.NewDate(2012, 10, 27), 1, -2.6}, {weather.NewDate(2012, 11, 8), 1, -3.4}, {weather.NewDate(2012, 11, 11), 1, -2.2},
		{weather.NewDate(2012, 11, 30), 4, -6.1}, {weather.NewDate(2012, 12, 11), 3, -7.4}, {weather.NewDate(2013, 1, 12), 9, -11.8},
		{weather.NewDate(2013, 2, 7), 5, -5.2}, {weather.NewDate(2013, 2, 22), 2, -4.0}, {weather.NewDate(2013, 3, 10), 3, -6.5},
	}
	for i, e := range frosts {
		if e.day > asOf {
			break
		}
		s.Events = append(s.Events, weather.Event{Winter: w, Number: i + 1, Start: weather.Hour{Date: e.day, Hour: 3},
			End: weather.Hour{Date: e.day + weather.Date(e.nights), Hour: 9}, Nights: e.nights, MinCanopyC: e.cold,
			MinScreenC: e.cold + 1.4, HoursFrozen: 9 * float64(e.nights), ThawPeakC: 4.2})
	}
	for i := range n {
		hardy := 0.9 - 0.85*float64(i)/math.Max(1, float64(n-1))
		p := forecast.PlantingSeason{Line: lineName(i), Planting: fmt.Sprintf("P%d", i+1), Kind: "candidate", Basis: "notes"}
		if i%7 == 3 {
			p.Kind = "check"
		}
		if n == 1 {
			hardy = 0.6
		}
		leaf, weeds := 0.0, 0.004
		for d := first; d <= last; d++ {
			t := float64(d - first)
			full := (22 + 6*math.Sin(float64(i))) / (1 + math.Exp(-(t-65)/14))
			if d > weather.NewDate(2013, 3, 1) {
				full *= 1 + 0.01*float64(d-weather.NewDate(2013, 3, 1))
			}
			leaf += 0.06 * (full - leaf) * math.Max(0.03, math.Cos((t-20)/340*2*math.Pi))
			for _, e := range frosts {
				if d == e.day+weather.Date(e.nights) {
					leaf *= 1 - (1-hardy)/(1+math.Exp((e.cold+6.5)/1.5))
				}
				if d > asOf {
					leaf *= 1 - 0.002*(1-hardy)
				}
			}
			doubt := 0.18
			if d > asOf {
				doubt += 0.006 * math.Min(70, float64(d-asOf))
			}
			p.Days = append(p.Days, forecast.SeasonDay{Date: d, LeafG: leaf, LeafLoG: leaf * math.Exp(-1.64*doubt), LeafHiG: leaf * math.Exp(1.64*doubt),
				LeafDryG: leaf * 0.14, GroundLight: math.Exp(-leaf * 0.098), WeedCover: weeds, Observed: d <= asOf})
			weeds += 0.012 * weeds * (1 - weeds) * math.Exp(-leaf*0.098) * math.Max(0, t-40) / 30
		}
		for _, d := range []weather.Date{weather.NewDate(2012, 10, 16), weather.NewDate(2012, 11, 14), weather.NewDate(2013, 1, 22), weather.NewDate(2013, 2, 19)} {
			if d <= asOf && i%5 != 4 {
				p.Notes = append(p.Notes, forecast.NotePoint{Date: d, Trait: "leaf_mass", Value: p.Days[d-first].LeafG * (0.9 + 0.05*float64(i%5)), Plants: 10})
				mass := &p.Notes[len(p.Notes)-1]
				mass.Low, mass.High = 0.73*mass.Value, 1.37*mass.Value
				p.Notes = append(p.Notes, forecast.NotePoint{Date: d, Trait: "top_height", Value: 33, Plants: 10},
					forecast.NotePoint{Date: d, Trait: "ground_cover", Value: 0.9 - 0.6*p.Days[d-first].GroundLight, Low: math.NaN(), High: math.NaN(), Plants: 1},
					forecast.NotePoint{Date: d, Trait: "weed_cover", Value: 0.01 + p.Days[d-first].WeedCover, Low: 0.006, High: 0.03 + p.Days[d-first].WeedCover, Plants: 1})
			}
		}
		s.Plantings = append(s.Plantings, p)
	}
	return s
}

// picks invents the odds of n plantings from asOf to the default window's end.
func picks(n int, asOf weather.Date) *forecast.Picks {
	p := &forecast.Picks{Winter: weather.WinterYear{Year: 2012}, AsOf: asOf, From: weather.NewDate(2013, 2, 1), To: weather.NewDate(2013, 3, 15),
		Traces: 34, Assurance: 0.8, WantedShare: 0.85, NotKnown: []string{"fit days"}}
	for i := range n {
		r := forecast.Pick{Rank: i + 1, Line: lineName(i), Planting: fmt.Sprintf("P%d", i+1), Kind: []string{"candidate", "check", "commercial"}[i%3],
			Notes: 6 + i, Winters: 34, Basis: "notes", Reason: "leaf enough for a test", LeafEndG: 14 / (1 + float64(i)*0.4), ChanceBest: 1 / float64(n)}
		level := 0.98 - 0.9*float64(i)/math.Max(1, float64(n-1))
		if n == 1 {
			level = 0.7
		}
		all := true
		open := false
		for d := asOf; d <= p.To; d++ {
			odds := level + (1-level)*0.95*math.Exp(-float64(d-asOf)/60)
			if odds >= p.Assurance && (!r.HasHold || open) {
				if !r.HasHold {
					r.HoldsFrom, r.HasHold = d, true
				}
				r.HoldsUntil, open = d, true
			} else {
				open = false
			}
			if d >= p.From && odds < p.Assurance {
				all = false
			}
			r.Dates = append(r.Dates, forecast.PickDate{Date: d, All: odds, Lift: odds, Shaded: 1, RootNoFrost: math.NaN(),
				LiftShareMean: odds, FitDaysLeft: math.NaN()})
		}
		switch {
		case i%5 == 4:
			r.Verdict, r.Basis, r.Notes = forecast.NotKnownYet, "assumed", 0
		case all:
			r.Verdict = forecast.Hold
		case r.HasHold:
			r.Verdict = forecast.LiftEarly
		default:
			r.Verdict = forecast.TooWeak
		}
		if r.HasHold {
			r.ShadedUntil, r.HasShaded = p.To, true
		}
		p.Rows = append(p.Rows, r)
	}
	return p
}

// rename gives the rows hostile names.
func rename(s *forecast.Season, p *forecast.Picks) {
	for i := range s.Plantings {
		s.Plantings[i].Line = hostile[i%len(hostile)]
	}
	for i := range p.Rows {
		p.Rows[i].Line = hostile[i%len(hostile)]
	}
}

// page invents a whole report of n plantings.
func page(n int, asOf weather.Date, hostileNames bool) Page {
	s, p := season(n, asOf), picks(n, asOf)
	if hostileNames {
		rename(s, p)
	}
	lines := learned(n)
	for i, r := range s.Plantings {
		lines[i].Line = r.Line
	}
	constants := table.New("constants", "name", "symbol", "value", "low", "high", "unit", "standing", "source", "lift_share_moves")
	for i := range 20 {
		constants.Add(table.Text(fmt.Sprintf("constant %d", i)), table.Text("c"), table.Num(0.3, 1), table.Num(0.2, 1), table.Num(0.5, 1), table.Text("m² g⁻¹"),
			table.Text("assumed"), table.Text("a reason"), table.Num(0.01*float64(i*7%20)-0.1, 2))
	}
	winters := table.New("winters", "winter", "days", "missing", "frost_days", "ice_days", "freeze_thaw_days", "severe_freeze_thaw_days", "events", "coldest_c", "rain_mm", "complete")
	for y := 1978; y <= 2012; y++ {
		w := weather.WinterYear{Year: y}
		days, complete := 365, true
		if y == 2012 {
			days, complete = 138, false
		}
		winters.Add(table.Text(w.String()), table.Int(days), table.Int(y%3), table.Int(20+y%17), table.Int(y%5), table.Int(18+y%13), table.Int(7+y%9),
			table.Int(8+y%11), table.Num(-6.3-float64(y%7), 1), table.Blank(), table.YesNo(complete))
	}
	var findings table.Findings
	for i := range 27 {
		findings = append(findings, table.Finding{File: "trial/station.csv", Line: 40 + 11*i, What: fmt.Sprintf("minimum above maximum: %q", "<i>7</i> & 3"), TreatedAs: "missing", Severity: table.Warning})
	}
	return Page{Title: "Invented valley, as of mid November", Version: "0.1.0", Station: "Invented Valley <1> & Co", Seasons: []*forecast.Season{s},
		Picks: []*forecast.Picks{p}, Orders: []*forecast.Order{orderOf(p)}, Frosts: []Frosts{frosts(35, asOf)}, Lines: lines, Crosses: crosses(n), Winters: winters, Verifications: []forecast.Verification{verification()}, Constants: constants, Findings: findings,
		Next: []*forecast.Advice{advice(p)}, Plans: []*forecast.TrialPlan{trialPlan(30, 2)}}
}

// frosts invents n winters of events up to asOf, the last winter asked for.
func frosts(n int, asOf weather.Date) Frosts {
	f := Frosts{Winter: weather.WinterOf(asOf, false), AsOf: asOf}
	for i := n - 1; i >= 0; i-- {
		w := weather.WinterYear{Year: f.Winter.Year - i}
		c := weather.WinterCount{Winter: w, Complete: i > 0 && i != n-1, ColdestC: -6}
		start, _ := w.FrostSeason()
		hard := 0.5 + 0.5*math.Sin(float64(w.Year)*2.3)
		n := int(3 + 25*hard)
		for k := range n {
			day := start + weather.Date(20+40*(1-hard)+float64(k)*(60+90*hard)/float64(n))
			if m := len(f.Events); m > 0 && f.Events[m-1].Winter == w && day <= f.Events[m-1].End.Date {
				day = f.Events[m-1].End.Date + 2
			}
			nights := 1 + int(4*hard*math.Abs(math.Sin(float64(3*k))))
			cold := -2 - 11*hard*math.Abs(math.Sin(float64(k)))
			e := weather.Event{Winter: w, Number: k + 1, Start: weather.Hour{Date: day, Hour: 3}, End: weather.Hour{Date: day + weather.Date(nights), Hour: 11},
				Nights: nights, MinCanopyC: cold, FreezingDegreeHours: -cold * 5 * float64(nights)}
			if day <= asOf && day < w.Last()-60 {
				f.Events = append(f.Events, e)
			}
		}
		f.Counts = append(f.Counts, c)
	}
	return f
}

// learned invents the traits of n lines.
func learned(n int) []forecast.Learned {
	var all []forecast.Learned
	for i := range n {
		l := forecast.Learned{Line: lineName(i), Kind: "candidate", Notes: 6 + i, Winters: 1 + i%4, Basis: forecast.FromNotes,
			TopSize: 1 + 0.6*math.Sin(float64(i)), TopSizeSD: 0.1 + 0.01*float64(i%7), TopLengthCM: 40 + 8*math.Sin(float64(2*i)), TopLengthSDCM: 2.2,
			HardinessC: -9.5 + 1.8*math.Cos(float64(3*i)), HardinessSDC: 0.3 + 0.05*float64(i%5)}
		if i%7 == 3 {
			l.Kind = "check"
		}
		if i%5 == 4 {
			l.Basis, l.Notes, l.Winters = forecast.Assumed, 0, 0
			l.TopSize, l.TopSizeSD, l.TopLengthCM, l.TopLengthSDCM, l.HardinessC, l.HardinessSDC = 1, 0.35, 40, 6.7, -9.5, 1.25
		}
		all = append(all, l)
	}
	return all
}
