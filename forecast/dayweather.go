package forecast

import (
	"math"

	"wintertop/weather"
)

// DayWeather says where the weather of one day of a season comes from.
type DayWeather string

// The sources of a day's weather.
const (
	WeatherObserved DayWeather = "observed"     // as the station reports it
	WeatherFilled   DayWeather = "filled"       // in a gap of a few days, from the days beside it
	WeatherAhead    DayWeather = "ahead"        // the short-range forecast
	WeatherPast     DayWeather = "past winters" // each past winter in turn
)

// weatherOn says where the weather of a day comes from at a place as it was
// known on the as-of day.
func (p *Place) weatherOn(d weather.Date) DayWeather {
	if day, ok := p.Filled.Day(d); ok {
		switch day.State {
		case weather.Observed:
			return WeatherObserved
		case weather.Filled:
			return WeatherFilled
		}
		return WeatherPast
	}
	for _, day := range p.Ahead {
		if day.Date == d && !math.IsNaN(day.MinC+day.MaxC) {
			return WeatherAhead
		}
	}
	return WeatherPast
}
