package canopy

import "wintertop/weather"

// Params holds every number of the canopy model once; Standard gives the cited
// values and Constants the table of them. Degree days are °C d above BaseC cut
// at UpperC unless said otherwise; masses are g dry per plant.
type Params struct {
	// Leaves and growth.
	BaseC                  float64 // no growth below
	UpperC                 float64 // horizontal cut
	EmergenceDegreeDays    float64 // counted from the day after sowing
	LeafIntervalDegreeDays float64 // from one leaf to the next
	ExpansionDegreeDays    float64 // age at which a leaf is full
	LifeDegreeDays         float64 // age at which it begins to fade
	FadingDegreeDays       float64 // from then until it has faded
	FullLeafG              float64 // at top size 1
	LeafAreaM2PerG         float64
	CropExtinction         float64 // per leaf area index
	GrowthGPerMJ           float64 // g per MJ PAR caught, root included
	FullGrowthC            float64 // growth is full from this mean of daily mean and maximum
	LeafShareClosed        float64 // of growth, where no light reaches the ground
	LeafShareOpen          float64 // added where all of it does
	ReserveGPerDegreeDay   float64 // growth from seed, later crown

	// Frost.
	UnhardenedC      float64 // LT50 of unhardened leaves
	InnerOuterC      float64 // LT50 of the outermost tissue less that of the innermost
	KillSpreadC      float64 // scale of the logistic loss curve
	FallShare        float64 // a leaf with less than this share of its best mass falls
	FallDegreeDays   float64 // age up to which none falls
	InjuryMemory     float64 // °C of LT50 for a whole top lost; site item
	InjuryForgetting float64 // share per day

	// Height and leaf count.
	LeastFullLeafG float64 // heights are relative to a leaf of at least this, at top size 1
	CountedLeafG   float64 // least live leaf counted, at top size 1
	StandardTopCM  float64 // top length for the light that reaches weeds

	// Chickweed.
	WeedBaseC              float64 // no leaf growth below; no upper cut
	WeedStartLAI           float64
	WeedCeilingLAI         float64
	WeedGrowthPerDegreeDay float64 // of ln leaf area, in full light
	WeedHalfLightMJ        float64 // PAR per day that halves it
	WeedExtinction         float64
	WeedLeastCM            float64
	WeedCMPerLAI           float64

	// Stand and lifting.
	MassLnSD              float64 // between plants of a stand
	HeightLnSD            float64
	MassHeightCorrelation float64
	StrengthNPerG         float64 // strength of a top, N per g dry live leaf
	StrengthCV            float64 // its SD over its mean
	PullUndercutN         float64 // pull of an undercut root
	PullUndercutSDN       float64
	PullN                 float64 // pull of a root not undercut
	PullSDN               float64
	BackgroundLoss        float64 // share of plants lost however good the top
	BeltHeightCM          float64 // site item
	GripFreshG            float64 // g fresh that the belts grip; site item
	DryShare              float64 // dry mass of fresh tops; site item
	Undercut              bool    // roots are undercut before lifting; site item
}

// Standard gives the cited values.
func Standard() Params {
	return Params{
		BaseC: 1.5, UpperC: 25, EmergenceDegreeDays: 150, LeafIntervalDegreeDays: 110,
		ExpansionDegreeDays: 420, LifeDegreeDays: 1150, FadingDegreeDays: 110, FullLeafG: 0.42,
		LeafAreaM2PerG: 0.016, CropExtinction: 0.55, GrowthGPerMJ: 2.8, FullGrowthC: 14,
		LeafShareClosed: 0.30, LeafShareOpen: 0.40, ReserveGPerDegreeDay: 0.0004,

		UnhardenedC: -4.5, InnerOuterC: 4, KillSpreadC: 1.1, FallShare: 0.5, FallDegreeDays: 60,
		InjuryMemory: 0, InjuryForgetting: 0.1,

		LeastFullLeafG: 0.3, CountedLeafG: 0.1, StandardTopCM: 40,

		WeedBaseC: -1.7, WeedStartLAI: 0.002, WeedCeilingLAI: 4, WeedGrowthPerDegreeDay: 0.016,
		WeedHalfLightMJ: 2.5, WeedExtinction: 0.7, WeedLeastCM: 3, WeedCMPerLAI: 6,

		MassLnSD: 0.6, HeightLnSD: 0.18, MassHeightCorrelation: 0.45,
		StrengthNPerG: 59, StrengthCV: 0.09, PullUndercutN: 21.4, PullUndercutSDN: 5.8, PullN: 133, PullSDN: 62,
		BackgroundLoss: 0.04, BeltHeightCM: 20, GripFreshG: 6, DryShare: 0.14, Undercut: true,
	}
}

// Sources and reasons that several rows of the table share.
const (
	turner      = "Turner et al. 2018, raw data"
	lifting     = "ICAR Indian J. Agric. Sci. 90825"
	storkey     = "Storkey & Cussans 2000"
	winterLight = "winter growth is limited by light; settled on bare rows greening over by spring"
	lowMat      = "chickweed lies in a low mat"
	ownChoice   = "the grower's machine; item of site.csv"
)

// Constants gives the table of all numbers; each Value points into p.
func (p *Params) Constants() []weather.Constant {
	const (
		read, memory, practice = weather.Cited, weather.Memory, weather.Practice
		assumed, derived       = weather.Assumed, weather.Derived
	)
	row := func(name, symbol string, value *float64, low, high float64, unit string, standing weather.Standing, source string) weather.Constant {
		return weather.Constant{Name: name, Symbol: symbol, Value: value, Low: low, High: high, Unit: unit, Standing: standing, Source: source}
	}
	return []weather.Constant{
		row("leaf_base", "Tb", &p.BaseC, 0, 3, "degC", assumed, "growth nearly stops a little above freezing; no winter figure found"),
		row("leaf_upper", "Tu", &p.UpperC, 22, 30, "degC", assumed, "horizontal cut; reached on summer days only"),
		row("emergence", "TTe", &p.EmergenceDegreeDays, 100, 200, "degC d", assumed, "one to two weeks after a July sowing; depends on moisture"),
		row("leaf_interval", "phi", &p.LeafIntervalDegreeDays, 85, 140, "degC d", assumed, "no carrot value found; gives about ten live leaves in October, "+turner+": median 7-9"),
		row("leaf_expansion", "TTx", &p.ExpansionDegreeDays, 300, 540, "degC d", assumed, "about four leaves expand at a time"),
		row("leaf_life", "TTl", &p.LifeDegreeDays, 1000, 1300, "degC d", assumed, "gives about ten live leaves in October, "+turner+": median 7-9"),
		row("leaf_fading", "TTf", &p.FadingDegreeDays, 60, 200, "degC d", assumed, "as long as one leaf interval, so that one leaf fades at a time"),
		row("full_leaf", "m1", &p.FullLeafG, 0.30, 0.60, "g dry", assumed, turner+": 0.39 g per leaf (0.13-0.98) in summer"),
		row("leaf_area_of_mass", "sla", &p.LeafAreaM2PerG, 0.011, 0.022, "m2/g", assumed, "leaf and petiole together; leaf area index 3 to 6 of a full stand in October"),
		row("crop_extinction", "k", &p.CropExtinction, 0.40, 0.70, "1", assumed, "Beer-Lambert for divided, spreading leaves"),
		row("growth_of_light", "rue", &p.GrowthGPerMJ, 2.0, 3.2, "g/MJ PAR", memory, "Reid & English 2000"),
		row("full_growth_from", "Tg", &p.FullGrowthC, 12, 18, "degC", assumed, "linear from the base of leaf growth; mean of daily mean and maximum"),
		row("leaf_share_closed", "pc", &p.LeafShareClosed, 0.20, 0.40, "1", assumed, "share of growth to leaves where no light reaches the ground; the rest goes to the root"),
		row("leaf_share_open", "po", &p.LeafShareOpen, 0.20, 0.60, "1", assumed, "added to it where all light does: more light let through, more goes to leaves"),
		row("reserve_growth", "gr", &p.ReserveGPerDegreeDay, 0.0002, 0.0008, "g/(degC d)", assumed, "from seed, later the crown: growth and regrowth start from it"),
		row("unhardened_lt50", "LT0", &p.UnhardenedC, -5, -3.3, "degC", read, "McGill thesis 1944, celery: outer petioles killed at -3.3, plants at -4.4 degC"),
		row("inner_outer_lt50", "g", &p.InnerOuterC, 2.5, 5, "degC", assumed, "LT50 of the outermost tissue less that of the innermost: outer leaves go first"),
		row("kill_spread", "s", &p.KillSpreadC, 0.8, 1.5, "degC", assumed, "logistic scale; tissue of one genotype has 0.55-1.15 and a whole leaf, base to tip, more"),
		row("fall_share", "c", &p.FallShare, 0.2, 0.5, "1", assumed, "share of its best mass; a leaf hurt past the middle of its stalk lies down and rots"),
		row("fall_age", "TTc", &p.FallDegreeDays, 30, 120, "degC d", assumed, "leaves still inside the crown are held up by the others, so that the heart grows on"),
		row("injury_memory", "m", &p.InjuryMemory, 0, 5, "degC", assumed, "rise of LT50 for a whole top lost; the literature conflicts: Gusta & Fowler 1977, Lecomte et al. 2003 yes, Skinner & Bellinger 2017 no; item of site.csv"),
		row("injury_forgetting", "mf", &p.InjuryForgetting, 0.05, 0.3, "1/d", assumed, "matters only with injury memory above 0"),
		row("least_full_leaf", "mh", &p.LeastFullLeafG, 0.2, 0.4, "g dry", assumed, "late-sown tops with small leaves are short"),
		row("counted_leaf", "mc", &p.CountedLeafG, 0.05, 0.15, "g dry", assumed, turner+": 5 % of leaves are below 0.13 g"),
		row("standard_top", "L", &p.StandardTopCM, 36, 46, "cm", practice, "common practice, no source: wanted going into winter; height over the weeds"),
		row("weed_base", "Tw", &p.WeedBaseC, -3.3, 0, "degC", read, storkey),
		row("weed_start", "Lw0", &p.WeedStartLAI, 0.0005, 0.006, "m2/m2", assumed, "seedlings left or newly up after the last cultivation"),
		row("weed_growth", "rw", &p.WeedGrowthPerDegreeDay, 0.010, 0.020, "1/(degC d)", assumed, winterLight),
		row("weed_half_light", "hw", &p.WeedHalfLightMJ, 1.5, 4, "MJ PAR/(m2 d)", assumed, winterLight),
		row("weed_ceiling", "Lwx", &p.WeedCeilingLAI, 3, 5, "m2/m2", assumed, "a closed mat"),
		row("weed_extinction", "kw", &p.WeedExtinction, 0.5, 0.9, "1", assumed, "Beer-Lambert for flat leaves"),
		row("weed_least_height", "ww", &p.WeedLeastCM, 1, 5, "cm", assumed, "seedlings; "+lowMat),
		row("weed_height_of_area", "wl", &p.WeedCMPerLAI, 3, 10, "cm", assumed, lowMat),
		row("mass_sd_ln", "sm", &p.MassLnSD, 0.45, 0.75, "1", read, "Salter et al. 1981 by root-leaf allometry: leaf CV 0.46-0.70; "+turner),
		row("height_sd_ln", "sh", &p.HeightLnSD, 0.12, 0.25, "1", read, turner),
		row("mass_height_correlation", "rho", &p.MassHeightCorrelation, 0.25, 0.65, "1", read, turner),
		row("strength", "q", &p.StrengthNPerG, 53, 65, "N/g dry", derived, lifting+": 236 and 212 N for a whole top of 4 g"),
		row("strength_cv", "qs", &p.StrengthCV, 0.08, 0.12, "1", read, lifting+": 21 of 236, 17 of 212"),
		row("pull_undercut", "f", &p.PullUndercutN, 20.2, 40, "N", read, lifting+"; healthy summer foliage"),
		row("pull_undercut_sd", "fs", &p.PullUndercutSDN, 5.5, 12, "N", read, lifting),
		row("pull_not_undercut", "F", &p.PullN, 80, 160, "N", read, lifting+"; healthy summer foliage"),
		row("pull_not_undercut_sd", "Fs", &p.PullSDN, 41.7, 62, "N", read, lifting),
		row("background_loss", "b", &p.BackgroundLoss, 0.025, 0.08, "1", read, lifting),
		row("belt_height", "H", &p.BeltHeightCM, 15, 25, "cm", practice, "common practice, no source; "+ownChoice),
		row("grip_mass", "G", &p.GripFreshG, 3, 12, "g fresh", assumed, "what the belts need between them; "+ownChoice),
		row("dry_share", "d", &p.DryShare, 0.11, 0.16, "1", read, turner+"; item of site.csv"),
	}
}
