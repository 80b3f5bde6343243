package forecast

import "wintertop/weather"

// Params holds the numbers of learning, outlook and pick.
type Params struct {
	// The population of lines before any note.
	TopSizeSDLn  float64
	TopLengthCM  float64
	TopLengthSD  float64 // of ln
	HardinessC   float64
	HardinessSDC float64
	PlaceSDC     float64
	// How far the mean of the lines at hand lies from the population's, and for
	// how many lines its spread counts.
	MeanSizeSDLn    float64
	MeanLengthSDLn  float64
	MeanHardSDC     float64
	PopulationLines float64

	// How a winter's notes scatter about a line's traits.
	LineWinterSizeSD   float64 // of ln
	LineWinterLengthSD float64 // of ln
	LineWinterHardSDC  float64
	WinterHardSDC      float64 // of all lines alike: what the model gets wrong of a winter's frost
	TrialSDLn          float64
	PlotMassSDLn       float64
	PlotHeightSDLn     float64
	MassOffsetG        float64
	CoverSDLn          float64 // of a note of ground cover, as ln leaf area
	CoverLeast         float64
	PlantLeavesSDLn    float64
	PlotLeavesSDLn     float64
	TrialLeavesSDLn    float64
	LeavesOffset       float64
	LeafDoubt          float64 // leaves
	WeedSDLogit        float64
	PlotWeedSDLogit    float64
	TrialWeedSDLogit   float64
	WeedLeast          float64
	PlotLiftSDLogit    float64
	TrialLiftSDLogit   float64
	HeightOffsetCM     float64

	// When to speak of notes.
	FarZ           float64
	DisagreeChance float64
	TeachesLittle  float64
	NoteWorthShare float64 // of winters
	NoteWorthC     float64

	// What a cross passes on.
	HeritableShare  float64
	WithinLineShare float64

	// What the grower wants.
	WantedShare float64
	Assurance   float64
	ShadeLimit  float64
	TieOdds     float64

	// How the crew lifts.
	CrewDaysPerWeek float64
	WorthShare      float64 // share of the stand below which belts are not worth driving in
}

// Standard gives the cited values; Constants shows each with range and source.
func Standard() Params {
	return Params{
		TopSizeSDLn:        0.35,
		TopLengthCM:        40,
		TopLengthSD:        0.17,
		HardinessC:         -9.5,
		HardinessSDC:       1.2,
		PlaceSDC:           0.35,
		MeanSizeSDLn:       0.2,
		MeanLengthSDLn:     0.1,
		MeanHardSDC:        0.6,
		PopulationLines:    6,
		LineWinterSizeSD:   0.12,
		LineWinterLengthSD: 0.06,
		LineWinterHardSDC:  0.5,
		WinterHardSDC:      0.5,
		TrialSDLn:          0.15,
		PlotMassSDLn:       0.2,
		PlotHeightSDLn:     0.1,
		MassOffsetG:        0.02,
		HeightOffsetCM:     1,
		CoverSDLn:          0.4,
		CoverLeast:         0.01,
		PlantLeavesSDLn:    0.3,
		PlotLeavesSDLn:     0.1,
		TrialLeavesSDLn:    0.2,
		LeavesOffset:       0.5,
		LeafDoubt:          1,
		WeedSDLogit:        0.5,
		PlotWeedSDLogit:    0.7,
		TrialWeedSDLogit:   1.2,
		WeedLeast:          0.005,
		PlotLiftSDLogit:    0.5,
		TrialLiftSDLogit:   0.5,
		FarZ:               4,
		DisagreeChance:     0.001,
		TeachesLittle:      0.1,
		HeritableShare:     0.5,
		WithinLineShare:    0,
		NoteWorthShare:     0.002,
		NoteWorthC:         0.01,
		WantedShare:        0.85,
		Assurance:          0.80,
		ShadeLimit:         0.35,
		TieOdds:            0.60,
		CrewDaysPerWeek:    5,
		WorthShare:         0.5,
	}
}

// Constants lists p with range, standing and source. The values are p's own
// fields.
func (p *Params) Constants() []weather.Constant {
	const (
		diallel = "Turner et al. 2018, 36 lines x 3 environments x 2 blocks: REML SD of ln dry leaf mass, line 0.59, line x environment 0.25, plot 0.37 in a cross of wide parents"
		judged  = "judgement, no published value found; "
	)
	return []weather.Constant{
		{Name: "size_sd_ln", Symbol: "sd_size", Value: &p.TopSizeSDLn, Low: 0.2, High: 0.6, Unit: "1", Standing: weather.Assumed, Source: diallel + "; commercial lines differ less"},
		{Name: "top_length", Symbol: "length", Value: &p.TopLengthCM, Low: 36, High: 46, Unit: "cm", Standing: weather.Practice, Source: "common practice, no source: tops of 36-46 cm wanted going into winter"},
		{Name: "length_sd_ln", Symbol: "sd_length", Value: &p.TopLengthSD, Low: 0.1, High: 0.25, Unit: "1", Standing: weather.Assumed, Source: judged + "spans the tops seen in trade"},
		{Name: "hardiness", Symbol: "h", Value: &p.HardinessC, Low: -12, High: -7, Unit: "degC", Standing: weather.Assumed, Source: judged + "carrot foliage damage is published only as a band, -4 to -7 degC partly hardened"},
		{Name: "hardiness_sd", Symbol: "sd_hardiness", Value: &p.HardinessSDC, Low: 0.6, High: 2, Unit: "degC", Standing: weather.Assumed, Source: judged + "first candidate for calibration"},
		{Name: "place_drop_sd", Symbol: "sd_place", Value: &p.PlaceSDC, Low: 0.2, High: 0.6, Unit: "degC", Standing: weather.Fitted, Source: "ten Dutch stations, minimum at 10 cm over grass, October-March (KNMI open data)"},
		{Name: "mean_size_sd_ln", Symbol: "sd_mean_size", Value: &p.MeanSizeSDLn, Low: 0.1, High: 0.4, Unit: "1", Standing: weather.Assumed, Source: judged + "a trial's lines differ from the standard by less than among themselves"},
		{Name: "mean_length_sd_ln", Symbol: "sd_mean_length", Value: &p.MeanLengthSDLn, Low: 0.05, High: 0.2, Unit: "1", Standing: weather.Assumed, Source: judged + "a trial's lines differ from the standard by less than among themselves"},
		{Name: "mean_hardiness_sd", Symbol: "sd_mean_hardiness", Value: &p.MeanHardSDC, Low: 0.3, High: 1.2, Unit: "degC", Standing: weather.Assumed, Source: judged + "half the spread between lines"},
		{Name: "population_lines", Symbol: "nu", Value: &p.PopulationLines, Low: 3, High: 20, Unit: "lines", Standing: weather.Assumed, Source: judged + "so many lines with notes weigh as much as the assumed spread between lines"},
		{Name: "line_winter_size_sd_ln", Symbol: "sd_lw_size", Value: &p.LineWinterSizeSD, Low: 0.05, High: 0.3, Unit: "1", Standing: weather.Assumed, Source: diallel},
		{Name: "line_winter_length_sd_ln", Symbol: "sd_lw_length", Value: &p.LineWinterLengthSD, Low: 0.03, High: 0.12, Unit: "1", Standing: weather.Assumed, Source: judged + "half the size deviation, as length varies less"},
		{Name: "line_winter_hardiness_sd", Symbol: "sd_lw_hardiness", Value: &p.LineWinterHardSDC, Low: 0.2, High: 1, Unit: "degC", Standing: weather.Assumed, Source: judged + "under half the between-line SD"},
		{Name: "winter_hardiness_sd", Symbol: "sd_winter_hardiness", Value: &p.WinterHardSDC, Low: 0.2, High: 1, Unit: "degC", Standing: weather.Assumed, Source: judged + "what the model gets wrong of a winter's frost, all lines alike; as much as a line deviates"},
		{Name: "trial_sd_ln", Symbol: "sd_trial", Value: &p.TrialSDLn, Low: 0.1, High: 0.3, Unit: "1", Standing: weather.Assumed, Source: judged + "sowing, soil and season shared by a trial"},
		{Name: "plot_mass_sd_ln", Symbol: "sd_plot_mass", Value: &p.PlotMassSDLn, Low: 0.1, High: 0.4, Unit: "1", Standing: weather.Assumed, Source: diallel},
		{Name: "plot_height_sd_ln", Symbol: "sd_plot_height", Value: &p.PlotHeightSDLn, Low: 0.05, High: 0.2, Unit: "1", Standing: weather.Assumed, Source: judged + "half that of mass"},
		{Name: "mass_offset", Symbol: "g0", Value: &p.MassOffsetG, Low: 0.01, High: 0.05, Unit: "g", Standing: weather.Assumed, Source: "about the least mass a kitchen balance shows, so that a note of 0 is valid"},
		{Name: "height_offset", Symbol: "cm0", Value: &p.HeightOffsetCM, Low: 0.5, High: 2, Unit: "cm", Standing: weather.Assumed, Source: "the least height a ruler in the field shows, so that a note of 0 is valid"},
		{Name: "cover_sd_ln", Symbol: "sd_cover", Value: &p.CoverSDLn, Low: 0.25, High: 0.6, Unit: "1", Standing: weather.Assumed, Source: judged + "cover by eye, and light as an index of cover, as ln leaf area"},
		{Name: "cover_least", Symbol: "cover0", Value: &p.CoverLeast, Low: 0.005, High: 0.03, Unit: "1", Standing: weather.Assumed, Source: "the eye tells no cover from hardly any, nor full cover from nearly full"},
		{Name: "plant_leaves_sd_ln", Symbol: "sd_leaves", Value: &p.PlantLeavesSDLn, Low: 0.2, High: 0.42, Unit: "1", Standing: weather.Assumed, Source: "Turner et al. 2018: 5-20 leaves (5-95 %) over plants of many lines, SD of ln at most 0.42; less within one"},
		{Name: "plot_leaves_sd_ln", Symbol: "sd_plot_leaves", Value: &p.PlotLeavesSDLn, Low: 0.05, High: 0.2, Unit: "1", Standing: weather.Assumed, Source: judged + "half that of mass"},
		{Name: "trial_leaves_sd_ln", Symbol: "sd_trial_leaves", Value: &p.TrialLeavesSDLn, Low: 0.1, High: 0.3, Unit: "1", Standing: weather.Assumed, Source: "the range of the leaf interval moves all counts together"},
		{Name: "leaves_offset", Symbol: "n0", Value: &p.LeavesOffset, Low: 0.25, High: 1, Unit: "leaves", Standing: weather.Practice, Source: "common practice, no source: half a count, so that a note of 0 is valid"},
		{Name: "leaf_doubt", Symbol: "sd_leaf", Value: &p.LeafDoubt, Low: 0.5, High: 2, Unit: "leaves", Standing: weather.Assumed, Source: judged + "in the model a leaf falls on all plants at once, in the field not"},
		{Name: "weed_sd_logit", Symbol: "sd_weed", Value: &p.WeedSDLogit, Low: 0.3, High: 0.8, Unit: "1", Standing: weather.Assumed, Source: judged + "cover by eye"},
		{Name: "plot_weed_sd_logit", Symbol: "sd_plot_weed", Value: &p.PlotWeedSDLogit, Low: 0.4, High: 1.2, Unit: "1", Standing: weather.Assumed, Source: judged + "weeds are patchy"},
		{Name: "trial_weed_sd_logit", Symbol: "sd_trial_weed", Value: &p.TrialWeedSDLogit, Low: 0.8, High: 2, Unit: "1", Standing: weather.Assumed, Source: "the range of the seedlings left after the last cultivation"},
		{Name: "weed_least", Symbol: "weed0", Value: &p.WeedLeast, Low: 0.002, High: 0.02, Unit: "1", Standing: weather.Assumed, Source: "the eye tells no cover from hardly any"},
		{Name: "plot_lift_sd_logit", Symbol: "sd_plot_lift", Value: &p.PlotLiftSDLogit, Low: 0.3, High: 1, Unit: "1", Standing: weather.Assumed, Source: judged + "soil and setting of the belts beside the count of plants"},
		{Name: "trial_lift_sd_logit", Symbol: "sd_trial_lift", Value: &p.TrialLiftSDLogit, Low: 0.3, High: 1, Unit: "1", Standing: weather.Assumed, Source: judged + "soil on the day"},
		{Name: "far_z", Symbol: "z_far", Value: &p.FarZ, Low: 3, High: 5, Unit: "SD", Standing: weather.Practice, Source: "common practice, no source; a normal note in 16000, more where frost bends the scale"},
		{Name: "disagree_chance", Symbol: "p_far", Value: &p.DisagreeChance, Low: 0.0001, High: 0.01, Unit: "1", Standing: weather.Practice, Source: "common practice, no source"},
		{Name: "teaches_little", Symbol: "told_little", Value: &p.TeachesLittle, Low: 0.05, High: 0.2, Unit: "1", Standing: weather.Assumed, Source: judged + "a winter whose notes take away less of the variance of hardiness is remarked on"},
		{Name: "heritable_share", Symbol: "h2", Value: &p.HeritableShare, Low: 0.25, High: 0.8, Unit: "1", Standing: weather.Assumed, Source: "the breeder's to set in site.csv: the share of the variance seen among progeny lines, in the trial in which they are chosen, that breeds true; with the spreads above, half of the lines', one winter and two plots it is 0.6 for size and length and at most 0.75 for hardiness, less what notes fail to tell"},
		{Name: "within_line_share", Symbol: "w", Value: &p.WithinLineShare, Low: 0, High: 1, Unit: "1", Standing: weather.Derived, Source: "the breeder's to set in site.csv: 0 where progeny lines are bred as true as their parents; (1 - F)/F where lines of inbreeding F give progeny lines fixed to the end"},
		{Name: "note_worth_share", Symbol: "worth_share", Value: &p.NoteWorthShare, Low: 0.0005, High: 0.01, Unit: "1", Standing: weather.Assumed, Source: judged + "a row is done with where all notes that the winter still allows together lower the loss of leaving it or not wrongly by less, as a share of winters"},
		{Name: "note_worth_hardiness", Symbol: "worth_h", Value: &p.NoteWorthC, Low: 0.002, High: 0.05, Unit: "degC", Standing: weather.Assumed, Source: judged + "a line is done with where all notes that the winter still allows together lower the loss of taking the wrong line for the hardier by less"},
		{Name: "wanted_share", Symbol: "wanted_share", Value: &p.WantedShare, Low: 0.5, High: 0.95, Unit: "1", Standing: weather.Assumed, Source: "the grower's choice, set in site.csv"},
		{Name: "assurance", Symbol: "assurance", Value: &p.Assurance, Low: 0.5, High: 0.95, Unit: "1", Standing: weather.Assumed, Source: "the grower's choice, set in site.csv"},
		{Name: "shade_limit", Symbol: "shade_limit", Value: &p.ShadeLimit, Low: 0.2, High: 0.5, Unit: "1", Standing: weather.Assumed, Source: "the grower's choice, set in site.csv; judgement, no winter value found"},
		{Name: "tie_odds", Symbol: "tie_odds", Value: &p.TieOdds, Low: 0.55, High: 0.75, Unit: "1", Standing: weather.Assumed, Source: judged + "three winters in five is no ground for a choice"},
		{Name: "crew_days_per_week", Symbol: "crew_days", Value: &p.CrewDaysPerWeek, Low: 3, High: 7, Unit: "days", Standing: weather.Practice, Source: "common practice, no source: a working week; set in site.csv"},
		{Name: "worth_share", Symbol: "worth_share", Value: &p.WorthShare, Low: 0.3, High: 0.7, Unit: "1", Standing: weather.Assumed, Source: judged + "a stand of which the belts leave half is passed over, and no plan counts on it"},
	}
}
