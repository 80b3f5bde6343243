package weather

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"wintertop/weather/table"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// onePlaceOf cuts the rows of one place out of the file of two.
func onePlaceOf(t testing.TB, place string) string {
	t.Helper()
	text, err := os.ReadFile("../testdata/seattle-newyork-daily-2012-2015.csv")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for i, line := range strings.SplitAfter(string(text), "\n") {
		if i < 2 || strings.HasPrefix(line, place+",") {
			b.WriteString(line)
		}
	}
	return b.String()
}

func mustRead(t testing.TB, text string, how Reading) Record {
	t.Helper()
	r, _, err := Read(strings.NewReader(text), "station.csv", how)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// layoutsOf writes a record as stations and services do. Values in °C and mm
// have one decimal, so that no layout loses a digit.
func layoutsOf(t *testing.T, r Record) map[string]struct {
	text string
	how  Reading
} {
	type file = struct {
		text string
		how  Reading
	}
	write := func(header, ending string, row func(d Day, at time.Time) string) string {
		var b strings.Builder
		b.WriteString(header + ending)
		for _, d := range r.Days {
			b.WriteString(row(d, d.Date.Time()) + ending)
		}
		return b.String()
	}
	number := func(format string, x float64, blank string) string {
		if math.IsNaN(x) {
			return blank
		}
		return fmt.Sprintf(format, x)
	}
	comma := func(x float64) string { return strings.Replace(number("%.1f", x, ""), ".", ",", 1) }
	fahrenheit := func(c float64) float64 { return c*1.8 + 32 }
	tenths := func(x float64, blank string) string { return number("%.0f", math.Round(x*10), blank) }
	encoded := func(s string, err error) string {
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	slashes := write("Date\tMax Temp (°C)\tMin Temp (°C)\tTotal precip (mm)", "\r\n", func(d Day, at time.Time) string {
		return at.Format("2/1/2006") + "\t" + comma(d.MaxC) + "\t" + comma(d.MinC) + "\t" + comma(d.RainMM)
	})
	plain := write("date,tmin,tmax,rain", "\n", func(d Day, at time.Time) string {
		return fmt.Sprintf("%s,%s,%s,%s", d.Date, number("%.1f", d.MinC, ""), number("%.1f", d.MaxC, "NA"), number("%.1f", d.RainMM, ""))
	})
	var packed bytes.Buffer
	zip := gzip.NewWriter(&packed)
	io.WriteString(zip, plain)
	zip.Close()
	header, body, _ := strings.Cut(strings.TrimSuffix(plain, "\n"), "\n")
	lines := strings.Split(body, "\n")
	for i, j := 0, len(lines)-1; i < j; i, j = i+1, j-1 {
		lines[i], lines[j] = lines[j], lines[i]
	}
	long := func(id string, d Day, at time.Time, element string, x float64) string {
		if math.IsNaN(x) {
			return ""
		}
		return fmt.Sprintf("%s,%s,%s,%s,,,S,0700\n", id, at.Format("20060102"), element, tenths(x, ""))
	}
	return map[string]file{
		"plain":        {plain, Reading{}},
		"compressed":   {packed.String(), Reading{}},
		"newest first": {header + "\n" + strings.Join(lines, "\n") + "\n\n", Reading{}},
		"semicolons, decimal commas, dots in dates": {write("Datum;TN;TX;RR", "\r\n", func(d Day, at time.Time) string {
			return at.Format("02.01.2006") + ";" + comma(d.MinC) + ";" + comma(d.MaxC) + ";" + comma(d.RainMM)
		}), Reading{}},
		"°F and inches in the header": {write(`"Date","Max. temp (°F)","Min. temp (°F)","Rainfall (in)"`, "\n", func(d Day, at time.Time) string {
			return fmt.Sprintf("%q,%s,%s,%s", d.Date, number("%.2f", fahrenheit(d.MaxC), ""), number("%.2f", fahrenheit(d.MinC), ""), number("%.9f", d.RainMM/25.4, ""))
		}), Reading{}},
		"°F and inches as told, m/d/y": {write("DATE,TMAX,TMIN,PRCP", "\n", func(d Day, at time.Time) string {
			return fmt.Sprintf("%s,%s,%s,%s", at.Format("1/2/2006"), number("%.2f", fahrenheit(d.MaxC), "M"), number("%.2f", fahrenheit(d.MinC), "M"), number("%.9f", d.RainMM/25.4, "M"))
		}), Reading{Units: "us"}},
		"tenths as told, commented preamble and header": {"# DAILY VALUES, see \"notes\"\n# TN = minimum (0.1 degrees C)\n#\n" +
			write("# STN,YYYYMMDD,   TN,   TX,   RR,   TG", "\n", func(d Day, at time.Time) string {
				return fmt.Sprintf("  7,%s,%5s,%5s,%5s,    1", at.Format("20060102"), tenths(d.MinC, ""), tenths(d.MaxC, ""), tenths(d.RainMM, ""))
			}), Reading{Units: "tenths"}},
		"tenths in the header": {write("date,tmin (0.1 °C),tmax (0.1 °C),rain (0.1 mm)", "\n", func(d Day, at time.Time) string {
			return fmt.Sprintf("%s,%s,%s,%s", d.Date, tenths(d.MinC, "-9999"), tenths(d.MaxC, "-9999"), tenths(d.RainMM, "-9999"))
		}), Reading{}},
		"kelvin": {write("date,tmin_k,tmax_k,rain_cm", "\n", func(d Day, at time.Time) string {
			return fmt.Sprintf("%s,%s,%s,%s", d.Date, number("%.2f", d.MinC+273.15, ""), number("%.2f", d.MaxC+273.15, ""), number("%.2f", d.RainMM/10, ""))
		}), Reading{}},
		"year, month, day": {write("Product,Year,Month,Day,Maximum temperature (Degree C),Quality,Minimum temperature (Degree C),Quality,Rainfall amount (millimetres)", "\n",
			func(d Day, at time.Time) string {
				return fmt.Sprintf("ID1,%s,%s,Y,%s,Y,%s", at.Format("2006,01,02"), number("%.1f", d.MaxC, ""), number("%.1f", d.MinC, ""), number("%.1f", d.RainMM, ""))
			}), Reading{}},
		"year and day of year below a preamble": {"-BEGIN HEADER-\nlatitude 47, MAX of the day\n-999 is missing\n-END HEADER-\n" +
			write("YEAR,DOY,T2M_MAX,T2M_MIN,PRECTOTCORR", "\n", func(d Day, at time.Time) string {
				return fmt.Sprintf("%d,%d,%s,%s,%s", at.Year(), at.YearDay(), number("%.2f", d.MaxC, "-999.0"), number("%.2f", d.MinC, "-999.0"), number("%.2f", d.RainMM, "-999.0"))
			}), Reading{}},
		"repeated ind, names of months": {"Station Name: Invented\nStation Height: 15 M\n\nmaxtp: - Maximum Air Temperature (C)\nind: - Indicator\n\n" +
			write("date,ind,maxtp,ind,mintp,gmin,ind,rain", "\r\n", func(d Day, at time.Time) string {
				return fmt.Sprintf("%s,0,%s,0,%s,-0.3,0,%s", strings.ToLower(at.Format("02-Jan-2006")), number("%.1f", d.MaxC, " "), number("%.1f", d.MinC, " "), number("%.1f", d.RainMM, " "))
			}), Reading{}},
		"UTF-16, tabs, d/m/y":       {encoded(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(slashes)), Reading{}},
		"Windows-1252, tabs, d/m/y": {encoded(charmap.Windows1252.NewEncoder().String(slashes)), Reading{}},
		"padded, sentinels, end mark": {write("STATIONS_ID;MESS_DATUM;QN_3;  FX; RSK; TXK; TNK;eor", "\r\n", func(d Day, at time.Time) string {
			return fmt.Sprintf("         44;%s;   10;   -999;%8s;%8s;%8s;eor", at.Format("20060102"), number("%.1f", d.RainMM, "-999"), number("%.1f", d.MaxC, "-999"), number("%.1f", d.MinC, "-999"))
		}), Reading{}},
		"GHCN-Daily, wide": {write(`"STATION","DATE","LATITUDE","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"`, "\n", func(d Day, at time.Time) string {
			return fmt.Sprintf(`"XX000000001","%s","47.4","INVENTED, XX","%5s",",,W,2400","%5s",",,W","%5s",",,W"`, d.Date, tenths(d.RainMM, ""), tenths(d.MaxC, ""), tenths(d.MinC, ""))
		}), Reading{}},
		"GHCN-Daily, long": {write("XX000000001,20120101,WSF2,47,,,W,", "\n", func(d Day, at time.Time) string {
			id := "XX000000001"
			return strings.TrimSuffix(long(id, d, at, "PRCP", d.RainMM)+long(id, d, at, "TMAX", d.MaxC)+long(id, d, at, "TMIN", d.MinC), "\n")
		}), Reading{}},
	}
}

func TestOneRecordInManyLayouts(t *testing.T) {
	records := map[string]Record{"Seattle": mustRead(t, onePlaceOf(t, "Seattle"), Reading{})}
	if os.Getenv("OPEN_DATA") != "" {
		text, err := io.ReadAll(openFile(t, "debilt-daily-2000-2022.csv"))
		if err != nil {
			t.Fatal(err)
		}
		deBilt := mustRead(t, string(text), Reading{})
		records["De Bilt"] = deBilt.Upto(NewDate(2004, 6, 30))
	}
	for place, want := range records {
		// two short gaps and a lone missing minimum, as layouts differ in how they write them
		for _, at := range []int{400, 401, 700} {
			want.Days[at].MinC, want.Days[at].MaxC, want.Days[at].State = math.NaN(), math.NaN(), Missing
		}
		want.Days[800].MinC, want.Days[800].State = math.NaN(), Missing
		want.HasSnow = false
		for i := range want.Days {
			want.Days[i].SnowCM = math.NaN()
		}
		filled, _ := want.Filled()
		site := Site{LatitudeDeg: 50, Params: Standard()}
		winters := rendering(t, WintersTable(want.CountWinters(false), Events(filled, site)))
		events := rendering(t, EventsTable(Events(filled, site)))
		for name, file := range layoutsOf(t, want) {
			t.Run(place+" "+name, func(t *testing.T) {
				got, seen, err := Read(strings.NewReader(file.text), "station.csv", file.how)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range seen {
					if f.Severity != table.Note && !strings.Contains(f.What, "not in order") {
						t.Error(f)
					}
				}
				if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), cmpopts.IgnoreFields(Record{}, "File", "Station")); diff != "" {
					t.Fatal(diff)
				}
				filled, _ := got.Filled()
				if rendering(t, WintersTable(got.CountWinters(false), Events(filled, site))) != winters || rendering(t, EventsTable(Events(filled, site))) != events {
					t.Error("other winters or events")
				}
			})
		}
	}
}

func rendering(t testing.TB, x *table.Table) string {
	t.Helper()
	var b strings.Builder
	if err := x.CSV(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
