package weather

// Site is the place whose weather is followed: where it lies, how its field
// differs from the station, and the constants that hold there.
type Site struct {
	Name        string
	LatitudeDeg float64 // degrees, south negative
	Coast       bool    // chooses the coefficient of radiation, nothing else
	MinOffsetC  float64 // field minimum - station minimum, °C
	MaxOffsetC  float64 // field maximum - station maximum, °C
	Params      Params
}

// South says whether the winters of the site are calendar years.
func (s Site) South() bool { return s.LatitudeDeg < 0 }

// radiation gives the coefficient kRs of the site.
func (s Site) radiation() float64 {
	if s.Coast {
		return s.Params.RadiationCoast
	}
	return s.Params.RadiationInland
}

// fieldC turns a station's extremes into the field's. Offsets that would put
// the minimum above the maximum give a day without a range.
func (s Site) fieldC(minC, maxC float64) (fieldMinC, fieldMaxC float64) {
	fieldMinC, fieldMaxC = minC+s.MinOffsetC, maxC+s.MaxOffsetC
	if fieldMinC > fieldMaxC {
		fieldMinC = fieldMaxC
	}
	return fieldMinC, fieldMaxC
}
