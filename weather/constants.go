package weather

// Standing says how far a constant's value can be trusted.
type Standing int

// The standings, from a figure seen in print to a judgement.
const (
	// Cited: the figure was seen in the cited source.
	Cited Standing = iota
	// Memory: recalled from the cited source, not seen again.
	Memory
	// Practice: common practice of the trade, no source.
	Practice
	// Fitted: estimated from the open data named as source.
	Fitted
	// Derived: follows from other figures by the formula named as source.
	Derived
	// Assumed: a judgement; the range is broad.
	Assumed
)

// String gives the word that the table of constants prints.
func (s Standing) String() string {
	return [...]string{"read", "memory", "practice", "fitted", "derived", "assumed"}[s]
}

// Constant is one row of the table of constants. Value points at the field
// that the formulas read; Low and High enclose the values found or thought
// possible; Source is never blank (for an assumed value it gives the reason).
type Constant struct {
	Name, Symbol string
	Value        *float64
	Low, High    float64
	Unit         string
	Standing     Standing
	Source       string
}

// Params holds every constant of the weather formulas; Standard gives the
// cited values and Constants the ranges, standings and sources.
type Params struct {
	RadiationCoast  float64 // kRs at the coast, °C^-0.5
	RadiationInland float64 // kRs inland, °C^-0.5
	ClearSkyShare   float64 // most of Ra that reaches the ground
	PARShare        float64 // PAR / global radiation

	MaxLagH    float64 // time of the maximum after noon, h
	NightDecay float64 // cooling at night, per length of the night
	MinLagH    float64 // time of the minimum after sunrise, h
	NightTurn  float64 // share of the night after which it runs straight to the minimum

	DropBaseC     float64 // drop of a night without a range, °C
	DropPerDegree float64 // drop per °C from yesterday's maximum to the minimum
	DropMaxC      float64 // largest drop, °C

	LoggerReach     float64 // distance from the line at which a night counts for nothing, median residuals
	LoggerNights    float64 // nights below which a fit is called poor
	LoggerWinterSDC float64 // SD of the mean drop from winter to winter at one place, °C
	LoggerFloorSDC  float64 // SD between a sensor among the leaves and the leaves, °C

	FreezingPointC float64 // canopy temperature at which an event opens, °C
	ThawPointC     float64 // daily maximum that closes an event, °C

	HardenMidC     float64 // daily mean with a target of one half, °C
	HardenWidthC   float64 // steepness of the target, °C
	HardenRate     float64 // share of the way up made in a day
	SoftenRate     float64 // share of the way down made in a day at SoftenAtC
	SoftenPerC     float64 // change of SoftenRate per °C
	SoftenAtC      float64 // daily mean at which SoftenRate holds, °C
	SoftenRateLow  float64 // least share of the way down made in a day
	SoftenRateHigh float64 // largest share of the way down made in a day

	SnowTopCM   float64 // depth that buries the whole top, cm
	SnowEFoldCM float64 // depth over which frost falls to 1/e, cm

	CrownAboveCM        float64 // height of the crown above the soil, cm
	CrownEFoldCM        float64 // height over which soil warmth in the crown falls to 1/e, cm
	RootFrostC          float64 // temperature below which a crown freezes, °C
	CoverExchangeWM2K   float64 // heat exchange between soil and canopy, W m⁻² K⁻¹
	SoilDiffusivityMM2S float64 // thermal diffusivity, mm² s⁻¹
	SoilHeatMJM3K       float64 // heat capacity, MJ m⁻³ K⁻¹
	SoilIceShare        float64 // water that freezes, share of the soil's volume
	TopsoilIceShare     float64 // share of it frozen in the upper 5 cm from which the ground counts as frozen

	BucketMM   float64 // water that the topsoil holds, mm
	BucketFull float64 // share of it from which machines do not go
	FitRainMM  float64 // rain of a day from which machines do not go, mm
}

// Standard gives the cited values.
func Standard() Params {
	return Params{
		RadiationCoast: 0.19, RadiationInland: 0.16, ClearSkyShare: 0.75, PARShare: 0.48,
		MaxLagH: 1.86, NightDecay: 2.20, MinLagH: -0.17, NightTurn: 0.9,
		DropBaseC: 0.19, DropPerDegree: 0.13, DropMaxC: 5,
		LoggerReach: 9, LoggerNights: 30, LoggerWinterSDC: 0.19, LoggerFloorSDC: 0.1,
		FreezingPointC: -2, ThawPointC: 1,
		HardenMidC: 6.0, HardenWidthC: 1.7, HardenRate: 0.30,
		SoftenRate: 0.25, SoftenPerC: 0.0286, SoftenAtC: 13, SoftenRateLow: 0.05, SoftenRateHigh: 0.45,
		SnowTopCM: 40, SnowEFoldCM: 4,
		CrownAboveCM: 1.5, CrownEFoldCM: 2.3, RootFrostC: -1.5,
		CoverExchangeWM2K: 7.5, SoilDiffusivityMM2S: 0.4, SoilHeatMJM3K: 2.2, SoilIceShare: 0.25, TopsoilIceShare: 0.10,
		BucketMM: 40, BucketFull: 0.90, FitRainMM: 3,
	}
}

// Constants lists every field of p with its range, unit, standing and source.
func (p *Params) Constants() []Constant {
	const dutch = "screen and 10 cm minima of ten Dutch stations over short grass, October-March, KNMI open data"
	const rates = "form Gay & Eagles 1991; rates read off cold acclimation of spinach and canola, other species"
	return []Constant{
		{"radiation_coast", "kRs", &p.RadiationCoast, 0.17, 0.21, "degC^-0.5", Cited, "FAO-56 eq. 50, coastal locations"},
		{"radiation_inland", "kRs", &p.RadiationInland, 0.14, 0.18, "degC^-0.5", Cited, "FAO-56 eq. 50, interior locations"},
		{"clear_sky_share", "Rso/Ra", &p.ClearSkyShare, 0.70, 0.80, "share", Cited, "FAO-56 eq. 37, sea level"},
		{"par_share", "PAR/Rs", &p.PARShare, 0.45, 0.50, "share", Cited, "Szeicz 1974 gives 0.50 +- 0.03"},
		{"max_lag", "a", &p.MaxLagH, 1.5, 2.5, "h", Cited, "Parton & Logan 1981; range assumed"},
		{"night_decay", "b", &p.NightDecay, 1.8, 3.0, "1", Cited, "Parton & Logan 1981; range assumed"},
		{"min_lag", "c", &p.MinLagH, -0.5, 1.0, "h", Cited, "Parton & Logan 1981; range assumed"},
		{"night_turn", "xt", &p.NightTurn, 0.8, 0.95, "share", Assumed, "mends the jump at sunrise; mean error over Dublin's hours 1.193 to 1.178 degC over the range"},
		{"drop_base", "d0", &p.DropBaseC, -0.9, 0.9, "degC", Fitted, dutch},
		{"drop_per_degree", "d1", &p.DropPerDegree, 0, 0.25, "1", Fitted, dutch},
		{"drop_max", "dmax", &p.DropMaxC, 4, 8, "degC", Assumed, "keeps a fitted line within what the fit has seen"},
		{"logger_reach", "c", &p.LoggerReach, 6, 9, "1", Memory, "Mosteller & Tukey 1977 give 6 to 9; 9 keeps the clear calm nights, whose drops are large and real"},
		{"logger_nights", "nmin", &p.LoggerNights, 20, 60, "d", Practice, "a month of nights"},
		{"logger_winter_sd", "sw", &p.LoggerWinterSDC, 0.15, 0.31, "degC", Fitted, "mean drop of one winter against the next, De Bilt 10 cm 0.18 and Norderney 5 cm 0.19; over decades 0.31"},
		{"logger_floor_sd", "sf", &p.LoggerFloorSDC, 0.05, 0.3, "degC", Assumed, "half the usual accuracy of a cheap logger, and a plate that cools nearly as a leaf does"},
		{"freezing_point", "Tf", &p.FreezingPointC, -3, -1, "degC", Cited, "range of nucleation temperatures of leaves in the field; the value is its middle"},
		{"thaw_point", "Tt", &p.ThawPointC, 0, 3, "degC", Assumed, "a little above melting, so that leaves thaw through"},
		{"harden_mid", "Tm50", &p.HardenMidC, 4, 8, "degC", Assumed, "crops of cool seasons begin to harden below about 10 degC and are near done at 2-5 degC"},
		{"harden_width", "w", &p.HardenWidthC, 1, 3, "degC", Assumed, "carries the target from 0.1 at 10 degC to 0.9 at 2 degC"},
		{"harden_rate", "r", &p.HardenRate, 0.20, 0.45, "1/d", Cited, rates},
		{"soften_rate", "q", &p.SoftenRate, 0.15, 0.35, "1/d", Cited, rates},
		{"soften_per_degree", "q1", &p.SoftenPerC, 0.01, 0.05, "1/d/degC", Cited, rates},
		{"soften_at", "Tq", &p.SoftenAtC, 10, 16, "degC", Cited, rates},
		{"soften_rate_low", "qmin", &p.SoftenRateLow, 0.02, 0.10, "1/d", Cited, rates},
		{"soften_rate_high", "qmax", &p.SoftenRateHigh, 0.35, 0.60, "1/d", Cited, rates},
		{"snow_top", "zt", &p.SnowTopCM, 25, 46, "cm", Assumed, "length of a standard top going into winter, taken as upright"},
		{"snow_e_fold", "zs", &p.SnowEFoldCM, 3, 7, "cm", Assumed, "fresh snow holds most of a night's frost from the ground within a hand's breadth"},
		{"crown_above", "zc", &p.CrownAboveCM, 0.5, 2.5, "cm", Practice, "crowns of carrots stand proud of the soil unless hilled"},
		{"crown_e_fold", "zr", &p.CrownEFoldCM, 1.5, 4, "cm", Derived, "rod of root tissue, sqrt(conductivity 0.55 W m-1 K-1 x thickness 3 cm / (4 x cover_exchange))"},
		{"root_frost", "Tr", &p.RootFrostC, -3, -1.2, "degC", Memory, "root tissue freezes at -1.4 degC (Whiteman 1957)"},
		{"cover_exchange", "hc", &p.CoverExchangeWM2K, 5, 15, "W m-2 K-1", Derived, "longwave at 0 degC 4.5 (emissivity 0.97) and sheltered air 3; 15 for bare soil in wind"},
		{"soil_diffusivity", "alpha", &p.SoilDiffusivityMM2S, 0.2, 0.8, "mm2 s-1", Assumed, "moist loam; a factor of two either way with water, sand and peat"},
		{"soil_heat", "cs", &p.SoilHeatMJM3K, 1.8, 2.8, "MJ m-3 K-1", Derived, "half solids at 1.92 and 0.30 water at 4.18 MJ m-3 K-1"},
		{"soil_ice", "wi", &p.SoilIceShare, 0.15, 0.35, "share", Assumed, "field capacity of a loam, less a fifth that stays liquid"},
		{"topsoil_ice", "fi", &p.TopsoilIceShare, 0.02, 0.30, "share", Assumed, "a crust of 5 mm in the upper 5 cm; 1 to 15 mm"},
		{"bucket", "Wmax", &p.BucketMM, 30, 50, "mm", Cited, "Vieira et al. 2019, sugarcane; range assumed"},
		{"bucket_full", "wf", &p.BucketFull, 0.85, 0.98, "share", Cited, "Vieira et al. 2019, sugarcane; by soil: it decides the answer"},
		{"fit_rain", "Rf", &p.FitRainMM, 2, 5, "mm", Cited, "Vieira et al. 2019, sugarcane; range assumed"},
	}
}
