package weather

import (
	"math"
	"testing"
)

// Two open records have minima close above short grass beside those of the
// screen; they serve as a logger. Printed for De Bilt, October-March: drop
// 0.30 + 0.22·range with RMSE 1.05, by which 48.9 nights a winter come to
// -2 °C or below, where 50.6 did and 27.6 by the bare screen (21 complete
// winters). Printed for Norderney: 0.75 whatever the range.
//
// Least squares over all these nights give 0.374 + 0.206 at De Bilt, with an
// RMSE of 1.047 against 1.048 of the printed pair: the valley is flat, and the
// two lines differ by 0.02 °C at the mean range. The robust line is held to
// the printed one; it is lower than least squares, as the largest drops, of
// clear calm nights, count less. The nights by the other lines, and all of
// Norderney but the 0.75, are recomputed here.
func TestFitDropOnOpenMinima(t *testing.T) {
	for _, c := range []struct {
		name, file, column              string
		printed                         [2]float64
		printedRMSE                     float64 // NaN: not printed
		baseTolerance, slopeTolerance   float64 // of the robust line against the printed pair
		dropTolerance                   float64 // the same at the mean range, °C
		leastSquares                    [2]float64
		observed, bare, printedPredicts float64 // nights a winter at or below -2 °C
		fittedPredicts                  float64
		winters                         int
	}{
		{"De Bilt", "debilt-daily-2000-2022.csv", "tmin10cm_c", [2]float64{0.30, 0.22}, 1.05, 0.015, 0.015, 0.07,
			[2]float64{0.374, 0.206}, 50.6, 27.6, 48.9, 48.0, 21},
		{"Norderney", "norderney-daily-1947-2020.csv", "tmin5cm_c", [2]float64{0.75, 0}, math.NaN(), 0.15, 0.02, 0.06,
			[2]float64{0.751, -0.009}, 28.8, 22.7, 28.4, 28.0, 72},
	} {
		t.Run(c.name, func(t *testing.T) {
			station := record(t, openFile(t, c.file), "tmin_c", "tmax_c")
			logger := record(t, openFile(t, c.file), c.column, "tmax_c")
			site := Site{LatitudeDeg: 52, Params: Standard()}
			f, err := FitDrop(station, logger, site)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d nights, %d set aside: %.3f (SE %.3f) + %.4f (SE %.4f) × range, residual SD %.3f; %.3f (SE %.3f) at the mean range %.2f; place SD %.2f",
				f.Nights, f.SetAside, f.BaseC, f.BaseSEC, f.PerDegree, f.PerDegreeSE, f.ResidualSDC, f.DropC, f.DropSEC, f.RangeC, f.PlaceSD(0.35))
			if f.OffDays != 0 {
				t.Errorf("found %d days off", f.OffDays)
			}
			near(t, "base, against the printed one", f.BaseC, c.printed[0], c.baseTolerance)
			near(t, "per degree, against the printed one", f.PerDegree, c.printed[1], c.slopeTolerance)
			near(t, "drop at the mean range, against the printed line", f.DropC, c.printed[0]+c.printed[1]*f.RangeC, c.dropTolerance)

			x, y, ones, squares := openNights(station, logger, c.printed)
			l := weightedLine(x, y, ones)
			near(t, "least squares, base", l.at(0), c.leastSquares[0], 0.0005)
			near(t, "least squares, per degree", l.slope, c.leastSquares[1], 0.0005)
			if !math.IsNaN(c.printedRMSE) {
				near(t, "RMSE of the printed pair", math.Sqrt(squares/float64(len(x))), c.printedRMSE, 0.005)
			}

			n, winters := coldNights(station, logger, c.printed, [2]float64{f.BaseC, f.PerDegree})
			if winters != c.winters {
				t.Errorf("%d complete winters, want %d", winters, c.winters)
			}
			near(t, "nights ≤ -2 °C by the logger", n[0], c.observed, 0.05)
			near(t, "nights ≤ -2 °C by the bare screen", n[1], c.bare, 0.05)
			near(t, "nights ≤ -2 °C by the printed line", n[2], c.printedPredicts, 0.05)
			near(t, "nights ≤ -2 °C by the robust line", n[3], c.fittedPredicts, 0.05)
		})
	}
}

// openNights gives range and drop of the nights from October to March, and the
// sum of squares about a line.
func openNights(station, logger Record, about [2]float64) (x, y, ones []float64, squares float64) {
	for i := 1; i < len(station.Days); i++ {
		_, month, _ := station.Days[i].Date.YMD()
		rangeC, dropC := station.Days[i-1].MaxC-station.Days[i].MinC, station.Days[i].MinC-logger.Days[i].MinC
		if inWinter(month) && !math.IsNaN(rangeC+dropC) {
			x, y, ones = append(x, rangeC), append(y, dropC), append(ones, 1)
			squares += math.Pow(dropC-about[0]-about[1]*rangeC, 2)
		}
	}
	return x, y, ones, squares
}

// coldNights counts nights at or below -2 °C a winter by the logger, by the
// screen, and by the screen less each line, over winters of which at most 5 %
// of the nights lack a reading.
func coldNights(station, logger Record, lines ...[2]float64) (mean []float64, winters int) {
	mean = make([]float64, 2+len(lines))
	p := Standard()
	for w := WinterOf(station.First(), false); w.First() <= station.Last(); w = w.Next() {
		from, to := w.FrostSeason()
		counts, read := make([]float64, len(mean)), 0
		for d := max(from, station.First()+1); d <= min(to, station.Last()); d++ {
			i := int(d - station.First())
			minC, beforeC, loggerC := station.Days[i].MinC, station.Days[i-1].MaxC, logger.Days[i].MinC
			if math.IsNaN(minC + beforeC + loggerC) {
				continue
			}
			read++
			canopyC := []float64{loggerC, minC}
			for _, l := range lines {
				p.DropBaseC, p.DropPerDegree = l[0], l[1]
				canopyC = append(canopyC, minC-p.CanopyDropC(beforeC, minC))
			}
			for k, c := range canopyC {
				if c <= -2 {
					counts[k]++
				}
			}
		}
		if days := int(to - from + 1); float64(read) < 0.95*float64(days) {
			continue
		}
		winters++
		for k := range mean {
			mean[k] += counts[k]
		}
	}
	for k := range mean {
		mean[k] /= float64(winters)
	}
	return mean, winters
}

// What a logger of one winter cannot tell: the mean drop at one place differs
// from one winter to the next. The figures are those of the table of constants.
func TestMeanDropOfSuccessiveWinters(t *testing.T) {
	for _, c := range []struct {
		name, file, column string
		want               float64
	}{
		{"De Bilt", "debilt-daily-2000-2022.csv", "tmin10cm_c", 0.18},
		{"Norderney", "norderney-daily-1947-2020.csv", "tmin5cm_c", 0.19},
	} {
		t.Run(c.name, func(t *testing.T) {
			station := record(t, openFile(t, c.file), "tmin_c", "tmax_c")
			logger := record(t, openFile(t, c.file), c.column, "tmax_c")
			f, err := FitDrop(station, logger, Site{LatitudeDeg: 52, Params: Standard()})
			if err != nil {
				t.Fatal(err)
			}
			squares, pairs, last := 0.0, 0.0, math.NaN()
			for w := WinterOf(station.First(), false); w.First() <= station.Last(); w = w.Next() {
				from, to := w.FrostSeason()
				sum, n := 0.0, 0.0
				for d := max(from, station.First()+1); d <= min(to, station.Last()); d++ {
					i := int(d - station.First())
					rangeC := station.Days[i-1].MaxC - station.Days[i].MinC
					if off := station.Days[i].MinC - logger.Days[i].MinC - f.BaseC - f.PerDegree*rangeC; !math.IsNaN(off) {
						sum, n = sum+off, n+1
					}
				}
				mean := math.NaN()
				if n > 150 {
					mean = sum / n
				}
				if !math.IsNaN(mean - last) {
					squares, pairs = squares+math.Pow(mean-last, 2), pairs+1
				}
				last = mean
			}
			near(t, "SD of the mean drop of a winter, from successive winters", math.Sqrt(squares/pairs/2), c.want, 0.005)
		})
	}
}
