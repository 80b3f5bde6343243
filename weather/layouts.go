package weather

import (
	"wintertop/weather/table"
)

// stationLayout knows the plain station file: one row a day, the usual words at
// stations for each column. A date may also stand as year, month and day, or as
// year and day of the year.
func stationLayout() table.Layout {
	return table.Layout{What: "station history", Unheaded: longColumns, Fields: []table.Field{
		{Name: "date", Aliases: []string{"yyyymmdd", "datum", "dates", "obs date", "observation date", "calendar date",
			"mess_datum", "reference date", "date utc", "date local", "local date"}},
		{Name: "tmin", Number: true, Aliases: []string{"min", "minimum", "min temp", "temp min", "minimum temp", "minimum temperature", "min temperature",
			"temperature min", "temperature minimum", "air temp min", "min air temp", "minimum air temperature", "air temperature min", "daily min",
			"daily minimum", "daily min temp", "daily minimum temperature", "tn", "tnk", "mintp", "low", "low temp", "lowest temperature", "t2m_min", "temperature 2m min", "minimum air temp",
			"mint", "tmn", "temp low", "temperature low", "tasmin"}},
		{Name: "tmax", Number: true, Aliases: []string{"max", "maximum", "max temp", "temp max", "maximum temp", "maximum temperature", "max temperature",
			"temperature max", "temperature maximum", "air temp max", "max air temp", "maximum air temperature", "air temperature max", "daily max",
			"daily maximum", "daily max temp", "daily maximum temperature", "tx", "txk", "maxtp", "high", "high temp", "highest temperature", "t2m_max", "temperature 2m max", "maximum air temp",
			"maxt", "tmx", "temp high", "hi temp", "temperature high", "tasmax"}},
		{Name: "rain", Number: true, Aliases: []string{"rainfall", "prcp", "precip", "precipitation", "rr", "rsk", "ppt", "pcp", "prec", "rain amount", "rainfall amount",
			"precip amount", "precipitation amount", "daily rain", "daily rainfall", "daily precipitation", "total rain", "total rainfall", "rain total", "rainfall total",
			"total precip", "total precipitation", "precip total", "precipitation total", "precipitation sum", "prectot", "prectotcorr",
			"daily precip", "rain 24h", "precipitation 24h", "rain tot"}},
		{Name: "snow_depth", Number: true, Aliases: []string{"snwd", "depth of snow", "snow on ground", "snow on the ground", "snow on grnd", "shk_tag", "snow cover depth", "total snow depth", "lying snow"}},
		{Name: "year", Aliases: []string{"yyyy", "yr"}},
		{Name: "month", Aliases: []string{"mm", "mo", "mon", "mth"}},
		{Name: "day", Aliases: []string{"dd", "dy", "dom", "day of month"}},
		{Name: "day_of_year", Aliases: []string{"doy", "yday", "jday", "julian", "julian day", "ddd"}},
		{Name: "time", MayRepeat: true, Aliases: []string{"datetime", "date time", "timestamp"}},
		{Name: "state", MayRepeat: true},
		{Name: "station", MayRepeat: true, Aliases: []string{"stn", "station id", "stations_id", "station number", "stn id"}},
		{Name: "place", MayRepeat: true, Aliases: []string{"location", "station name", "site"}},
		{Name: "element", MayRepeat: true}, {Name: "value", Number: true, MayRepeat: true, Aliases: []string{"data_value"}}, {Name: "quality", MayRepeat: true, Aliases: []string{"q_flag"}},
		{Name: "tmin_attributes"}, {Name: "tmax_attributes"}, {Name: "rain_attributes", Aliases: []string{"prcp_attributes"}},
		{Name: "snow_depth_attributes", Aliases: []string{"snwd_attributes"}},
	}}
}

// stationRow is one row of any station file under the canonical names.
type stationRow struct {
	Date      string       `csv:"date"`
	Year      string       `csv:"year"`
	Month     string       `csv:"month"`
	Day       string       `csv:"day"`
	DayOfYear string       `csv:"day_of_year"`
	Time      string       `csv:"time"`
	Min       table.Number `csv:"tmin"`
	Max       table.Number `csv:"tmax"`
	Rain      table.Number `csv:"rain"`
	SnowDepth table.Number `csv:"snow_depth"`
	State     string       `csv:"state"`
	Station   string       `csv:"station"`
	Place     string       `csv:"place"`

	// the long form of GHCN-Daily, and the attributes of its wide form
	Element             string       `csv:"element"`
	Value               table.Number `csv:"value"`
	Quality             string       `csv:"quality"`
	MinAttributes       string       `csv:"tmin_attributes"`
	MaxAttributes       string       `csv:"tmax_attributes"`
	RainAttributes      string       `csv:"rain_attributes"`
	SnowDepthAttributes string       `csv:"snow_depth_attributes"`
}

// shape says where a file keeps its dates and which of the two forms of
// GHCN-Daily it has, if any.
type shape struct {
	date       string // the column of whole dates, "" where they are in parts
	yearDay    bool   // parts are year and day of the year
	wide, long bool
}

// shapeOf looks at the columns. What is needed and not there is a fault.
func shapeOf(s *table.Source) (sh shape, missing []string) {
	has := func(field string) bool { _, ok := s.Column(field); return ok }
	if has("date") && has("element") && has("value") {
		return shape{date: "date", long: true}, nil
	}
	switch {
	case has("date"):
		sh.date = "date"
	case has("year") && has("month") && has("day"):
	case has("year") && has("day_of_year"):
		sh.yearDay = true
	case has("day") && !has("year") && !has("month"):
		sh.date = "day"
	case has("time"):
		sh.date = "time"
	default:
		missing = append(missing, "date (or year, month and day, or year and day_of_year)")
	}
	for _, field := range []string{"tmin", "tmax"} {
		if !has(field) {
			missing = append(missing, field)
		}
	}
	sh.wide = has("tmin_attributes") || has("tmax_attributes")
	return sh, missing
}
