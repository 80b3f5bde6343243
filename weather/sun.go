package weather

import (
	"math"
	"sync"
)

// DaylightHours gives the hours from sunrise to sunset, refraction and the
// sun's disc left out: 24 in polar day, 0 in polar night. Latitude in degrees,
// south negative; dayOfYear from 1. FAO-56 eq. 34.
func DaylightHours(latDeg float64, dayOfYear int) float64 {
	return 24 / math.Pi * newSky(latDeg).at(dayOfYear).sunsetAngle
}

// Sunrise gives the hour of sunrise in local solar time, noon at 12.
func Sunrise(latDeg float64, dayOfYear int) float64 { return 12 - DaylightHours(latDeg, dayOfYear)/2 }

// Sunset gives the hour of sunset in local solar time, noon at 12.
func Sunset(latDeg float64, dayOfYear int) float64 { return 12 + DaylightHours(latDeg, dayOfYear)/2 }

// ExtraterrestrialMJ gives the radiation on a level surface above the
// atmosphere, MJ m⁻² d⁻¹. FAO-56 eq. 21.
func ExtraterrestrialMJ(latDeg float64, dayOfYear int) float64 {
	return newSky(latDeg).extraterrestrialMJ(dayOfYear)
}

// GlobalMJ gives the radiation at the ground, MJ m⁻² d⁻¹, from
// extraterrestrial radiation and the station's extremes with the coefficient
// kRs, at most the share of a clear sky. FAO-56 eq. 50; for months rather
// than single days within its published error.
func (p Params) GlobalMJ(extraterrestrialMJ, minC, maxC, kRs float64) float64 {
	return math.Min(kRs*math.Sqrt(maxC-minC), p.ClearSkyShare) * extraterrestrialMJ
}

// sky holds what depends on latitude alone.
type sky struct{ sin, cos, tan float64 }

func newSky(latDeg float64) sky {
	sin, cos := math.Sincos(latDeg * math.Pi / 180) // FAO-56 eq. 22
	return sky{sin, cos, sin / cos}
}

// sunPath is the sun's way on one day.
type sunPath struct{ sinDecl, cosDecl, sunsetAngle, distance float64 }

func (k sky) at(dayOfYear int) sunPath {
	year := 2 * math.Pi / 365 * float64(dayOfYear)
	sin, cos := math.Sincos(0.409 * math.Sin(year-1.39))          // FAO-56 eq. 24
	angle := math.Acos(math.Max(-1, math.Min(1, -k.tan*sin/cos))) // FAO-56 eq. 25
	return sunPath{sin, cos, angle, 1 + 0.033*math.Cos(year)}     // FAO-56 eq. 23
}

// radiations holds what extraterrestrialOver gives, by latitude: of many winters at
// one place the same days are asked for again and again.
var radiations sync.Map

// extraterrestrialOver gives the radiation of ExtraterrestrialMJ by day of the year.
func extraterrestrialOver(latDeg float64) *[367]float64 {
	if known, ok := radiations.Load(latDeg); ok {
		return known.(*[367]float64)
	}
	var all [367]float64
	k := newSky(latDeg)
	for day := 1; day < len(all); day++ {
		all[day] = k.extraterrestrialMJ(day)
	}
	radiations.Store(latDeg, &all)
	return &all
}

func (k sky) extraterrestrialMJ(dayOfYear int) float64 {
	const solarConstant = 0.0820 // MJ m⁻² min⁻¹, FAO-56 eq. 21
	s := k.at(dayOfYear)
	return 24 * 60 / math.Pi * solarConstant * s.distance *
		(s.sunsetAngle*k.sin*s.sinDecl + k.cos*s.cosDecl*math.Sin(s.sunsetAngle)) // FAO-56 eq. 21
}
