package weather

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// A winter month in tenths of °C lies within what °F can be; its days are too
// wide for °F.
func TestLikelyUnitOfAWinter(t *testing.T) {
	for _, c := range []struct {
		name, want string
		low, wide  int
	}{
		{"tenths", "tenths of °C: add --units tenths", -10, 65},
		{"Fahrenheit", "°F: add --units us", 45, 18},
	} {
		var b strings.Builder
		b.WriteString("date,tmin,tmax\n")
		for day := 1; day <= 28; day++ {
			fmt.Fprintf(&b, "2015-02-%02d,%d,%d\n", day, c.low+day, c.low+day+c.wide)
		}
		_, _, err := Read(strings.NewReader(b.String()), "w.csv", Reading{})
		if err == nil || !strings.Contains(err.Error(), "the values look like "+c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestMoreDaysThanThereAre(t *testing.T) {
	if os.Getenv("WINTERTOP_LONG") == "" {
		t.Skip("set WINTERTOP_LONG=1")
	}
	text := "date,tmin,tmax\n" + strings.Repeat("2012-01-01,1,9\n", mostDays+2)
	_, _, err := Read(strings.NewReader(text), "w.csv", Reading{})
	if want := fmt.Sprintf("w.csv:%d: more than %d rows\nhint: give a row a day", mostDays+2, mostDays); err == nil || err.Error() != want {
		t.Errorf("got %.300v", err)
	}
}
