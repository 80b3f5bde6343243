package forecast

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// Files names the files of a trial. A blank name is the standard one in Dir,
// and only then may lines, plantings, notes and ahead be absent.
type Files struct {
	Dir                                           string
	Station, Site, Lines, Plantings, Notes, Ahead string
}

// Open opens one file by the name that Files gives, as os.Open does.
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

// loader collects what the files of one trial say.
type loader struct {
	open     Open
	findings table.Findings
}

// read opens one file and hands it to parse. A file that is not there is no
// error where the user did not name it.
func (l *loader) read(name string, must bool, parse func(io.Reader, string) (table.Findings, error)) error {
	f, err := l.open(name)
	if errors.Is(err, fs.ErrNotExist) && !must {
		return nil
	}
	if err != nil {
		return err
	}
	defer f.Close()
	findings, err := parse(f, name)
	l.findings = append(l.findings, findings...)
	var input *table.InputError
	if errors.As(err, &input) {
		l.findings = append(l.findings, input.Faults...)
		return nil
	}
	return err
}

// LoadWeather reads the station record and the site of every place. The error
// is a *table.InputError where input is wrong.
func LoadWeather(open Open, files Files, how weather.Reading) (*Trial, table.Findings, error) {
	l := &loader{open: open}
	trial := &Trial{Files: files}
	rows, err := l.site(files)
	if err != nil {
		return nil, l.findings, err
	}
	var places []string
	for _, row := range rows {
		if row.Place != "" {
			places = append(places, row.Place)
		}
	}
	return trial, l.findings, l.places(trial, rows, places, how)
}

// Load reads a whole trial. The error is a *table.InputError where input is
// wrong; the findings hold warnings and notes besides.
func Load(open Open, files Files, how weather.Reading) (*Trial, table.Findings, error) {
	l := &loader{open: open}
	trial := &Trial{Files: files}
	rows, err := l.site(files)
	if err != nil {
		return nil, l.findings, err
	}
	name, must := files.name(files.Lines, "lines.csv")
	err = l.read(name, must, func(r io.Reader, name string) (found table.Findings, err error) {
		trial.Lines, found, err = readLines(r, name)
		return found, err
	})
	if err != nil {
		return nil, l.findings, err
	}
	name, must = files.name(files.Plantings, "plantings.csv")
	err = l.read(name, must, func(r io.Reader, name string) (found table.Findings, err error) {
		trial.Plantings, found, err = readPlantings(r, name)
		return found, err
	})
	if err != nil {
		return nil, l.findings, err
	}
	name, must = files.name(files.Notes, "notes.csv")
	err = l.read(name, must, func(r io.Reader, name string) (found table.Findings, err error) {
		trial.Notes, found, err = readNotes(r, name)
		return found, err
	})
	if err != nil {
		return nil, l.findings, err
	}
	var places []string
	for _, p := range trial.Plantings {
		places = append(places, p.Place)
	}
	if err := l.places(trial, rows, places, how); err != nil {
		return nil, l.findings, err
	}
	l.findings = append(l.findings, trial.join()...)
	return trial, l.findings, l.findings.Err()
}

func (l *loader) site(files Files) (rows []siteRow, err error) {
	name, _ := files.name(files.Site, "site.csv")
	err = l.read(name, true, func(r io.Reader, name string) (found table.Findings, err error) {
		rows, found, err = readSite(r, name)
		return found, err
	})
	return rows, err
}

// places reads the weather of every place that names lists: one place or none
// is the plain case.
func (l *loader) places(trial *Trial, rows []siteRow, names []string, how weather.Reading) error {
	slices.Sort(names)
	names = slices.Compact(names)
	plain := len(names) <= 1
	siteFile, _ := trial.Files.name(trial.Files.Site, "site.csv")
	stationFile, _ := trial.Files.name(trial.Files.Station, "station.csv")
	aheadFile, aheadMust := trial.Files.name(trial.Files.Ahead, "ahead.csv")
	if plain {
		names = append(names, "")[:1]
	}
	for _, name := range names {
		if name == "" && !plain {
			l.findings = append(l.findings, table.Finding{File: siteFile, Column: "place", Severity: table.Fault, TreatedAs: "refused",
				What: fmt.Sprintf("some plantings name a place (%s) and some name none", strings.Join(names[1:], ", ")), Hint: "name the place of every planting"})
			continue
		}
		place := &Place{Name: name}
		var faults table.Findings
		place.Site, faults = siteOf(rows, siteFile, name)
		l.findings = append(l.findings, faults...)
		if plain {
			place.Name = ""
		}
		err := l.read(stationOf(stationFile, place.Name), true, func(r io.Reader, name string) (found table.Findings, err error) {
			place.Record, found, err = weather.Read(r, name, how)
			return found, err
		})
		if err != nil {
			return err
		}
		err = l.read(stationOf(aheadFile, place.Name), aheadMust, func(r io.Reader, name string) (found table.Findings, err error) {
			ahead, found, err := weather.Read(r, name, how)
			place.Ahead = ahead.Days
			return found, err
		})
		if err != nil {
			return err
		}
		trial.Places = append(trial.Places, place)
	}
	return l.findings.Err()
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
		place := *p
		place.Record = p.Record.Upto(day)
		var filled table.Findings
		place.Filled, filled = place.Record.Filled()
		findings = append(findings, filled...)
		cut.Places = append(cut.Places, &place)
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
