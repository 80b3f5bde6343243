package weather

// State says where a day's extremes come from.
type State uint8

const (
	Observed State = iota // both extremes as the station reports them
	Filled                // at least one extreme interpolated over a short gap
	Missing               // at least one extreme unknown
)

// String gives "observed", "filled" or "missing".
func (s State) String() string {
	return [...]string{"observed", "filled", "missing"}[s]
}

// Day is one calendar day at the station: lowest and highest screen
// temperature in °C, rain in mm, snow depth in cm. NaN means missing.
type Day struct {
	Date                       Date
	MinC, MaxC, RainMM, SnowCM float64
	State                      State
}

// Record is a station's history: every calendar day from the first to the
// last, in order. As Read gives it, a day is Observed or Missing and nothing is
// filled; where a minimum stood above its maximum both are missing. HasRain and
// HasSnow say whether the file had such a column with at least one value.
type Record struct {
	File, Station    string
	Days             []Day
	HasRain, HasSnow bool
}

// First gives the date of the first day. The record must not be empty.
func (r Record) First() Date { return r.Days[0].Date }

// Last gives the date of the last day. The record must not be empty.
func (r Record) Last() Date { return r.Days[len(r.Days)-1].Date }

// Day gives the day of the date d; ok is false where the record has none.
func (r Record) Day(d Date) (day Day, ok bool) {
	days := r.Slice(d, d)
	if len(days) == 0 {
		return Day{}, false
	}
	return days[0], true
}

// Slice gives the days from the date from to the date to, both included, as
// far as the record reaches. It shares memory with the record.
func (r Record) Slice(from, to Date) []Day {
	if len(r.Days) == 0 {
		return nil
	}
	from, to = max(from, r.First()), min(to, r.Last())
	if from > to {
		return nil
	}
	start := int(from - r.First())
	end := int(to-r.First()) + 1
	return r.Days[start:end:end]
}

// Upto gives the record without the days after d.
func (r Record) Upto(d Date) Record {
	if len(r.Days) > 0 {
		r.Days = r.Slice(r.First(), d)
	}
	return r
}
