package weather

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestDatesTakenApart(t *testing.T) {
	march := writtenDate{2012, 3, 4, true}
	for text, want := range map[string]writtenDate{
		"2012-03-04": march, "2012/3/4": march, "2012.03.04": march, "20120304": march, "2012-03-04T00:00:00Z": march, "20120304 00:00": march,
		"04-Mar-2012": march, "4 March 2012": march, "Mar 4, 2012": march, "04MAR2012": march, "2012-mar-04": march, "4. Sept 2012": {2012, 9, 4, true},
		"3/4/2012": {2012, 3, 4, false}, "03.04.2012": {2012, 3, 4, false}, "03-04-2012 09:00": {2012, 3, 4, false}, "3/4/2012 9:00 AM": {2012, 3, 4, false},
	} {
		if got, fault, _ := takeApart(text); got != want || fault != "" {
			t.Errorf("%q: got %+v, %s", text, got, fault)
		}
	}
	for _, text := range []string{"", "x", "2012", "2012-03", "12-03-04", "4/3/12", "4-Mar-12", "41000", "120304", "2012-03-04-05", "2012-003-04", "4 Marz 2012", "4-M-2012",
		"2012-03-04x", "Mar-Apr-2012", "20120304x", "99999999999999999999", "2012_03_04", "20123-03-04", "3/4/20120"} {
		if got, fault, hint := takeApart(text); got != (writtenDate{}) || fault == "" || hint == "" {
			t.Errorf("%q: got %+v, %q, %q", text, got, fault, hint)
		}
	}
}

func TestEveryDayInEveryForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Date(rapid.IntRange(int(NewDate(firstYear, 1, 1)), int(NewDate(lastYear, 12, 31))).Draw(t, "day"))
		form := rapid.SampledFrom([]string{time.DateOnly, "20060102", "2-Jan-2006", "January 2, 2006", "2006/1/2", time.RFC3339, "2/1/2006", "02.01.2006 15:04"}).Draw(t, "form")
		w, fault, _ := takeApart(d.Time().Format(form))
		if fault != "" {
			t.Fatal(fault)
		}
		if !w.inOrder {
			w.a, w.b = w.b, w.a
		}
		if got, fault := calendarDate(w.year, w.a, w.b); got != d || fault != "" {
			t.Fatalf("%s as %s: got %s, %s", d, form, got, fault)
		}
	})
}

func TestOrderInTheHeader(t *testing.T) {
	for unit, want := range map[string]string{"dd/mm/yyyy": "dmy", "D.M.Y": "dmy", "MM-DD-YYYY": "mdy", "m/d/y": "mdy", "yyyy-mm-dd": "", "UTC": "", "": "", "dmy": "dmy", "my": "", "day": ""} {
		if got := headerOrder(unit); got != want {
			t.Errorf("%q: got %q, want %q", unit, got, want)
		}
	}
	r := mustRead(t, "Date (dd/mm/yyyy),tmin,tmax\n03/04/2012,1,9\n", Reading{})
	if r.First() != NewDate(2012, 4, 3) {
		t.Errorf("got %s", r.First())
	}
	if r := mustRead(t, "Date,tmin,tmax\n03/04/2012,1,9\n", Reading{DateOrder: "mdy"}); r.First() != NewDate(2012, 3, 4) {
		t.Errorf("got %s", r.First())
	}
	if r := mustRead(t, "Date,tmin,tmax\n01/02/2012,1,9\n13/02/2012,1,9\n", Reading{}); r.First() != NewDate(2012, 2, 1) {
		t.Errorf("got %s", r.First())
	}
	if r := mustRead(t, "Date,tmin,tmax\n01/12/2012,1,9\n01/13/2012,1,9\n", Reading{}); r.First() != NewDate(2012, 1, 12) {
		t.Errorf("got %s", r.First())
	}
	if r := mustRead(t, "day,tmin,tmax\n2012-04-03,1,9\n", Reading{}); r.First() != NewDate(2012, 4, 3) {
		t.Errorf("a column day with whole dates: got %s", r.First())
	}
}
