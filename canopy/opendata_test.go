package canopy

import (
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"wintertop/weather"
)

// station is an open station record, read plainly; a gap is left out.
type station struct {
	name   string
	site   weather.Site
	byDate map[weather.Date]weather.Day
}

// readStation reads a CSV with a header; columns name date, minimum, maximum
// and, where not "", snow depth; keep chooses rows.
func readStation(t testing.TB, path string, site weather.Site, columns [4]string, keep func(row map[string]string) bool) *station {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	header, err := r.Read()
	if err != nil {
		t.Fatal(err)
	}
	s := &station{name: site.Name, site: site, byDate: map[weather.Date]weather.Day{}}
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return s
		}
		if err != nil {
			t.Fatal(err)
		}
		row := map[string]string{}
		for i, name := range header {
			row[name] = cells[i]
		}
		if keep != nil && !keep(row) {
			continue
		}
		date, err := weather.ParseDate(row[columns[0]])
		if err != nil {
			t.Fatal(err)
		}
		d := weather.Day{Date: date, MinC: number(row[columns[1]]), MaxC: number(row[columns[2]]), RainMM: math.NaN(), SnowCM: number(row[columns[3]])}
		if !(d.MinC > d.MaxC) && !math.IsNaN(d.MinC+d.MaxC) {
			s.byDate[date] = d
		}
	}
}

// winter gives the days of one winter, false where one is missing.
func (s *station) winter(t testing.TB, first, last weather.Date) (*weather.Winter, bool) {
	t.Helper()
	var days []weather.Day
	for d := first; d <= last; d++ {
		day, ok := s.byDate[d]
		if !ok {
			return nil, false
		}
		days = append(days, day)
	}
	w, err := weather.NewWinter(days, s.site)
	if err != nil {
		t.Fatal(err)
	}
	return w, true
}

func openFolder(t testing.TB) string {
	folder := os.Getenv("OPEN_DATA")
	if folder == "" {
		t.Skip("OPEN_DATA is not set: the folder with the open station records")
	}
	return folder
}

func norderney(t testing.TB) *station {
	return readStation(t, filepath.Join(openFolder(t), "norderney-daily-1947-2020.csv"),
		weather.Site{Name: "Norderney", LatitudeDeg: 53.71, Params: weather.Standard()},
		[4]string{"date", "tmin_c", "tmax_c", "snow_depth_cm"}, nil)
}

func deBilt(t testing.TB) *station {
	return readStation(t, filepath.Join(openFolder(t), "debilt-daily-2000-2022.csv"),
		weather.Site{Name: "De Bilt", LatitudeDeg: 52.10, Params: weather.Standard()},
		[4]string{"date", "tmin_c", "tmax_c", "snow_depth_cm"}, nil)
}

func seattle(t testing.TB) *station {
	return readStation(t, filepath.Join("..", "testdata", "seattle-newyork-daily-2012-2015.csv"),
		weather.Site{Name: "Seattle", LatitudeDeg: 47.45, Params: weather.Standard()},
		[4]string{"date", "temp_min", "temp_max", ""}, func(row map[string]string) bool { return row["location"] == "Seattle" })
}

// winters gives the complete runs from 1 July to 31 March.
func (s *station) winters(t testing.TB) []*weather.Winter {
	first, last := weather.Date(math.MaxInt32), weather.Date(math.MinInt32)
	for d := range s.byDate {
		first, last = min(first, d), max(last, d)
	}
	var all []*weather.Winter
	from, _, _ := first.YMD()
	to, _, _ := last.YMD()
	for year := from; year < to; year++ {
		if w, ok := s.winter(t, weather.NewDate(year, time.July, 1), weather.NewDate(year+1, time.March, 31)); ok {
			all = append(all, w)
		}
	}
	return all
}

// planting is the one all open winters are tried with.
func (s *station) planting(w *weather.Winter) Planting {
	return Planting{Sown: w.First + 4, LastCultivated: w.First + 62, PlantsPerM2: 80}
}

// october and february are the middles of those months.
func (s *station) october(w *weather.Winter) weather.Date { return w.First + 106 }

func (s *station) february(w *weather.Winter) weather.Date { return w.First + 229 }
