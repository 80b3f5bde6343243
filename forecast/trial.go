package forecast

import (
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"sync"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// Files names the files of a trial. A blank name is the standard one in Dir,
// and only then may lines, plantings, notes and ahead be absent.
type Files struct {
	Dir                                           string
	Station, Site, Lines, Plantings, Notes, Ahead string
}

// Open opens one file by the name that Files gives, as os.Open does. Several
// goroutines may call it.
type Open func(name string) (io.ReadCloser, error)

// Trial is a trial folder as read.
type Trial struct {
	Files     Files
	Places    []*Place // by name
	Lines     []Line   // in the file's order
	Plantings []Planting
	Notes     []Note
}

// Place is one place of a trial with its weather.
type Place struct {
	Name   string // "" where the trial has one place
	Site   Site
	Record weather.Record // as observed
	Filled weather.Record // short gaps filled
	Ahead  []weather.Day  // a short-range forecast; empty without one

	// What is worked out of site and filled record: neither may change after the first
	// that asks.
	events once[[]weather.Event]
	shares once[*canopy.ShareTable]
	wanted once[*canopy.Wanted]
}

// once is what is worked out at the first that asks for it, then kept.
type once[T any] struct {
	sync.Once
	value T
}

func (o *once[T]) get(work func() T) T {
	o.Do(func() { o.value = work() })
	return o.value
}

// Events gives the freeze–thaw events of the filled record, not to be changed.
func (p *Place) Events() []weather.Event {
	return p.events.get(func() []weather.Event { return weather.Events(p.Filled, p.Site.Weather) })
}

// liftShares gives the shares of a stand that lift at the place.
func (p *Place) liftShares() *canopy.ShareTable {
	return p.shares.get(func() *canopy.ShareTable { return canopy.NewLifting(p.Site.Canopy).Table() })
}

// wantedHeights gives the least heights at which the wanted share lifts.
func (p *Place) wantedHeights() *canopy.Wanted {
	return p.wanted.get(func() *canopy.Wanted {
		return canopy.NewLifting(p.Site.Canopy).Wanted(p.Site.Params.WantedShare)
	})
}

// EventsOf gives the events of one winter.
func (p *Place) EventsOf(w weather.WinterYear) []weather.Event {
	return slices.DeleteFunc(slices.Clone(p.Events()), func(e weather.Event) bool { return e.Winter != w })
}

// name gives the name under which a file is opened and whether the user named
// it, so that it must be there.
func (f Files) name(given, standard string) (string, bool) {
	if given != "" {
		return given, true
	}
	if f.Dir == "" || f.Dir == "." {
		return standard, false
	}
	return strings.TrimSuffix(f.Dir, "/") + "/" + standard, false
}

// stationOf gives the station file of one of several places: station.csv
// becomes station-PLACE.csv.
func stationOf(file, place string) string {
	if place == "" {
		return file
	}
	base, ext := file, path.Ext(file)
	if ext == ".gz" {
		base = strings.TrimSuffix(base, ext)
		ext = path.Ext(base) + ext
	}
	return strings.TrimSuffix(file, ext) + "-" + place + ext
}

// join checks what the files say of one another: lines and plantings referred
// to, dates against sowing; it sets each planting's winter.
func (t *Trial) join() table.Findings {
	var findings table.Findings
	plantingsFile, _ := t.Files.name(t.Files.Plantings, "plantings.csv")
	notesFile, _ := t.Files.name(t.Files.Notes, "notes.csv")
	fault := func(file string, line int, column, value, what, hint string) {
		findings = append(findings, table.Finding{File: file, Line: line, Column: column, Value: value, What: what, Hint: hint, TreatedAs: "refused", Severity: table.Fault})
	}
	lineNames := make([]string, len(t.Lines))
	for i, l := range t.Lines {
		lineNames[i] = l.Name
	}
	names := make([]string, len(t.Plantings))
	byName := map[string]*Planting{}
	for i := range t.Plantings {
		p := &t.Plantings[i]
		names[i] = p.Name
		byName[p.Name] = p
		place := t.placeOf(p)
		p.Winter = weather.WinterAfterSowing(p.Sown, place.Site.Weather.South())
		if !slices.Contains(lineNames, p.Line) {
			fault(plantingsFile, p.FileLine, "line", p.Line, fmt.Sprintf("line %q is not in lines.csv", p.Line), meant(p.Line, lineNames))
		}
		if p.Sown < place.Record.First() {
			fault(plantingsFile, p.FileLine, "sown", p.Sown.String(), fmt.Sprintf("sown on %s, before the station record begins on %s", p.Sown, place.Record.First()), "the model runs from sowing: give a longer record or drop the planting")
		}
	}
	for _, n := range t.Notes {
		p := byName[n.Planting]
		switch {
		case p == nil:
			fault(notesFile, n.FileLine, "planting", n.Planting, fmt.Sprintf("planting %q is not in plantings.csv", n.Planting), meant(n.Planting, names))
		case n.Date < p.Sown:
			fault(notesFile, n.FileLine, "date", n.Date.String(), fmt.Sprintf("note of %s on %s, before it was sown on %s", n.Planting, n.Date, p.Sown), "")
		case n.Date > p.Winter.Last():
			fault(notesFile, n.FileLine, "date", n.Date.String(), fmt.Sprintf("note of %s on %s, after its winter %s", n.Planting, n.Date, p.Winter), "check the date and the planting's name")
		}
	}
	return findings
}

func meant(word string, known []string) string {
	if near, ok := table.Nearest(word, known); ok {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return ""
}

// placeOf gives the place of a planting.
func (t *Trial) placeOf(p *Planting) *Place {
	for _, place := range t.Places {
		if place.Name == p.Place || place.Name == "" {
			return place
		}
	}
	panic("forecast: planting " + p.Name + " has no place")
}

// LastDay gives the last day on which every place has a record.
func (t *Trial) LastDay() weather.Date {
	last := t.Places[0].Record.Last()
	for _, p := range t.Places[1:] {
		last = min(last, p.Record.Last())
	}
	return last
}

// EndsApart says which day LastDay is where the places' records end on
// different days.
func (t *Trial) EndsApart() table.Findings {
	last := t.LastDay()
	var findings table.Findings
	for _, p := range t.Places {
		if p.Record.Last() > last {
			findings = append(findings, table.Finding{File: p.Record.File, Severity: table.Note, TreatedAs: "not used",
				What: fmt.Sprintf("goes on to %s; as-of is %s, the last day on which every place has a record", p.Record.Last(), last)})
		}
	}
	return findings
}

// Before keeps the findings that are not about days after a day.
func Before(findings table.Findings, day weather.Date) table.Findings {
	return slices.DeleteFunc(slices.Clone(findings), func(f table.Finding) bool { return f.Date > day.String() })
}

// aheadWithin is the number of days within which a short-range forecast must
// begin after as-of to have been known then: the next day, or the day after
// where the record ends with yesterday.
const aheadWithin = 2

func (t *Trial) aheadFile(p *Place) string {
	name, _ := t.Files.name(t.Files.Ahead, "ahead.csv")
	return stationOf(name, p.Name)
}

// AsOf gives the trial as it was known on the evening of a day: weather and
// notes after it are gone, and short gaps are filled from what is left. The
// findings name the filled gaps beside frost.
func (t *Trial) AsOf(day weather.Date) (*Trial, table.Findings, error) {
	cut := &Trial{Files: t.Files, Lines: t.Lines}
	var findings table.Findings
	for _, p := range t.Places {
		if day < p.Record.First() || day > p.Record.Last() {
			return nil, nil, &table.InputError{Faults: table.Findings{{File: p.Record.File, Severity: table.Fault, TreatedAs: "refused",
				What: fmt.Sprintf("as-of %s is outside the record, %s to %s", day, p.Record.First(), p.Record.Last())}}}
		}
		place := &Place{Name: p.Name, Site: p.Site, Record: p.Record.Upto(day), Ahead: p.Ahead}
		var filled table.Findings
		place.Filled, filled = place.Record.Filled()
		findings = append(findings, filled...)
		if len(p.Ahead) > 0 && p.Ahead[0].Date > day+aheadWithin {
			place.Ahead = nil
			findings = append(findings, table.Finding{File: t.aheadFile(p), Severity: table.Note, TreatedAs: "not used",
				What: fmt.Sprintf("the short-range forecast begins on %s: it was made after as-of %s", p.Ahead[0].Date, day)})
		}
		cut.Places = append(cut.Places, place)
	}
	for _, p := range t.Plantings {
		if p.Sown <= day {
			cut.Plantings = append(cut.Plantings, p)
		}
	}
	for _, n := range t.Notes {
		if n.Date <= day {
			cut.Notes = append(cut.Notes, n)
		}
	}
	return cut, findings, nil
}
