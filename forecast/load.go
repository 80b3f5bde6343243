package forecast

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// loader collects what the files of one trial say.
type loader struct {
	open     Open
	findings table.Findings
}

// opened opens one file. One that is not there is nil and no error where the user
// did not name it.
func (l *loader) opened(name string, must bool) (io.ReadCloser, error) {
	f, err := l.open(name)
	if errors.Is(err, fs.ErrNotExist) && !must {
		return nil, nil
	}
	return f, err
}

// read opens one file and hands it to parse, as parse does.
func (l *loader) read(name string, must bool, parse func(io.Reader, string) (table.Findings, error)) error {
	f, err := l.opened(name, must)
	if err != nil {
		return err
	}
	return l.parse(f, name, parse)
}

// parse hands a file that was opened to a parser, and closes it; nil has nothing.
func (l *loader) parse(f io.ReadCloser, name string, parser func(io.Reader, string) (table.Findings, error)) error {
	if f == nil {
		return nil
	}
	defer f.Close()
	findings, err := parser(f, name)
	var input *table.InputError
	if errors.As(err, &input) {
		findings = slices.DeleteFunc(findings, func(f table.Finding) bool { return f.Severity == table.Fault })
		findings, err = append(findings, input.Faults...), nil
	}
	l.findings = append(l.findings, findings...)
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
	if err = l.places(trial, rows, places, how); err == nil {
		err = l.findings.Err()
	}
	return trial, l.findings, err
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
	name, _ := files.name(files.Lines, "lines.csv")
	err = l.read(name, true, func(r io.Reader, name string) (found table.Findings, err error) {
		trial.Lines, found, err = readLines(r, name)
		return found, err
	})
	if err != nil {
		return nil, l.findings, err
	}
	name, must := files.name(files.Plantings, "plantings.csv")
	err = l.read(name, must, func(r io.Reader, name string) (found table.Findings, err error) {
		trial.Plantings, found, err = readPlantings(r, name)
		return found, err
	})
	if err != nil {
		return nil, l.findings, err
	}
	if err := l.notesAndPlaces(trial, rows, how); err != nil {
		return nil, l.findings, err
	}
	l.findings = append(l.findings, trial.join()...)
	return trial, l.findings, l.findings.Err()
}

// notesAndPlaces reads the notes and the weather of the places side by side: they
// are the long files. Notes that cannot be opened are told at once.
func (l *loader) notesAndPlaces(trial *Trial, rows []siteRow, how weather.Reading) error {
	files := trial.Files
	name, must := files.name(files.Notes, "notes.csv")
	f, err := l.opened(name, must)
	if err != nil {
		return err
	}
	var places []string
	for _, p := range trial.Plantings {
		places = append(places, p.Place)
	}
	before := len(l.findings)
	notes, stations := &loader{open: l.open}, &loader{open: l.open, findings: slices.Clone(l.findings)}
	stations.strangePlaces(rows, places, files)
	var errs [2]error
	inParallel(context.Background(), len(errs), func(i int) error {
		if i == 0 {
			errs[i] = notes.parse(f, name, func(r io.Reader, name string) (found table.Findings, err error) {
				trial.Notes, found, err = readNotes(r, name)
				return found, err
			})
		} else {
			errs[i] = stations.places(trial, rows, places, how)
		}
		return nil
	})
	l.findings = slices.Concat(l.findings, notes.findings, stations.findings[before:])
	return cmp.Or(errs[0], errs[1], l.findings.Err())
}

// strangePlaces refuses rows of site.csv for a place near in spelling to one
// that has plantings, and names those for any other place.
func (l *loader) strangePlaces(rows []siteRow, places []string, files Files) {
	name, _ := files.name(files.Site, "site.csv")
	known := slices.DeleteFunc(slices.Compact(slices.Sorted(slices.Values(places))), func(p string) bool { return p == "" })
	for _, row := range rows {
		if row.Place == "" || slices.Contains(known, row.Place) {
			continue
		}
		f := table.Finding{File: name, Line: row.line, Column: "place", Value: row.Place, Severity: table.Warning, TreatedAs: "not used",
			What: fmt.Sprintf("no planting stands at the place %q: its %s is not used", row.Place, row.Item)}
		if near, ok := table.Nearest(row.Place, known); ok {
			f.Severity, f.TreatedAs, f.Hint = table.Fault, "refused", fmt.Sprintf("did you mean %q?", near)
		}
		l.findings = append(l.findings, f)
	}
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
	named := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == "" })
	plain := len(named) <= 1
	if plain {
		names = append(named, "")[:1]
	}
	siteFile, _ := trial.Files.name(trial.Files.Site, "site.csv")
	stationFile, _ := trial.Files.name(trial.Files.Station, "station.csv")
	aheadFile, aheadMust := trial.Files.name(trial.Files.Ahead, "ahead.csv")
	for _, name := range names {
		if name == "" && !plain {
			l.findings = append(l.findings, table.Finding{File: siteFile, Column: "place", Severity: table.Fault, TreatedAs: "refused",
				What: fmt.Sprintf("some plantings name a place (%s) and some name none", strings.Join(names[1:], ", ")), Hint: "name the place of every planting"})
			continue
		}
		place := &Place{Name: name}
		refused := slices.ContainsFunc(l.findings, func(f table.Finding) bool { return f.File == siteFile && f.Severity == table.Fault })
		var faults table.Findings
		place.Site, faults = siteOf(rows, siteFile, name)
		l.findings = append(l.findings, slices.DeleteFunc(faults, func(f table.Finding) bool {
			return refused && f.Column == "latitude" && f.Line == 0 // a row refused is not a row left out
		})...)
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
	return nil
}
