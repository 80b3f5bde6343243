package weather

import (
	"fmt"
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
