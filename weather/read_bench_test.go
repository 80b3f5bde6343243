package weather

import (
	"bytes"
	"fmt"
	"testing"
)

// manyYears writes a plain station file of the given length, its temperatures
// in a made-up yearly round.
func manyYears(years int) []byte {
	var b bytes.Buffer
	b.WriteString("date,tmin_c,tmax_c,prcp_mm,snow_depth_cm\n")
	first := NewDate(1946, 7, 1)
	for d := first; d < NewDate(1946+years, 7, 1); d++ {
		_, month, day := d.YMD()
		low := float64(6-int(month-7)*int(month-7)/4) + float64(day%7)
		fmt.Fprintf(&b, "%s,%.1f,%.1f,%.1f,\n", d, low, low+8.5, float64(day%5))
	}
	return b.Bytes()
}

func BenchmarkRead75Years(b *testing.B) {
	file := manyYears(75)
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		if _, _, err := Read(bytes.NewReader(file), "station.csv", Reading{}); err != nil {
			b.Fatal(err)
		}
	}
}
