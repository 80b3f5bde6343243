package forecast

import "wintertop/weather"

// Season is one place through one winter: every planting of that winter from
// emergence to the winter's last day, observed weather where there is any and
// past winters played forward after it.
type Season struct {
	Place  string // "" where the trial has one place
	Winter weather.WinterYear
	AsOf   weather.Date
	Traces int // past winters played forward; 0 where every day was observed
	SoFar  Standing

	GripG      float64 // leaf mass that the belts need to grip, fresh g per plant
	ShadeLimit float64 // share of light at the ground below which weeds are shaded
	BeltCM     float64 // height at which the belts take hold, cm

	Events    []weather.Event // of the observed days
	Plantings []PlantingSeason
}

// PlantingSeason is one planting of a Season with the notes taken in it.
type PlantingSeason struct {
	Line     string
	Planting string
	Kind     string // check, candidate, commercial or ""
	Basis    string // assumed or notes
	Days     []SeasonDay
	Notes    []NotePoint
}

// SeasonDay holds the quantities of one planting on one day. All but the
// bounds are medians over traits and weather; the bounds are the 5 % and 95 %
// points with trait, weather and model doubt.
type SeasonDay struct {
	Date          weather.Date
	LeafG         float64 // live leaf, FRESH g per plant, mean of the planting
	LeafLoG       float64 // 5 %
	LeafHiG       float64 // 95 %
	LeafDryG      float64 // live leaf, DRY g per plant
	TopHeightCM   float64
	LiveLeaves    float64
	LeafAreaIndex float64
	GroundLight   float64 // share of light that passes the crop
	WeedCover     float64 // share of ground
	LiftShare     float64 // share of the stand that the belts can lift
	LT50C         float64
	Observed      bool // the day's weather was observed, or filled in a short gap
	Weather       DayWeather
}

// NotePoint is one note as a chart draws it.
type NotePoint struct {
	Date   weather.Date
	Trait  string
	Value  float64 // in the trait's own unit; leaf_mass in FRESH g per plant
	Low    float64 // 5 % of what the note leaves for the planting's mean
	High   float64 // 95 %; both NaN where no chart draws them
	Plants int
}

// Picks answers for one place which rows to lift when.
type Picks struct {
	Place        string
	Winter       weather.WinterYear
	AsOf         weather.Date
	From, To     weather.Date // the window
	Traces       int          // past winters played forward to the window's end; 0 where all of it was observed
	Assurance    float64      // wanted share of winters
	WantedShare  float64      // wanted share of the stand
	Rows         []Pick       // by rank
	NotKnown     []string     // columns left blank, with the reason
	LeftOutYears []string     // past winters that could not be played, with the reason
}

// Pick is one row of a Picks: one planting.
type Pick struct {
	Rank        int
	Line        string
	Planting    string
	Kind        string
	Verdict     Verdict
	HoldsFrom   weather.Date
	HoldsUntil  weather.Date
	HasHold     bool // HoldsFrom and HoldsUntil are set
	ShadedUntil weather.Date
	HasShaded   bool    // ShadedUntil is set
	ChanceBest  float64 // chance of the largest mean lift share over the window
	LeafEndG    float64 // median leaf mass on the window's last day, FRESH g per plant
	Notes       int     // values used for the line
	Winters     int     // past winters played forward to the window's end; 0 where all of it was observed
	Basis       string  // assumed or notes
	Tied        Ranks   // ranks of the rows it cannot be told apart from
	Reason      string  // why the verdict is no better, in words
	Dates       []PickDate
}

// PickDate holds the odds of one row on one day.
type PickDate struct {
	Date          weather.Date
	All           float64 // joint chance of Lift, Shaded and RootNoFrost
	Lift          float64 // chance that the lift share is at least the wanted share
	Leaf          float64 // chance of leaf enough for the wanted share, were the tops long enough
	Shaded        float64 // chance that the ground light is at most the shade limit
	RootNoFrost   float64 // chance of no root-frost day since as-of and none seen this winter before
	LiftShareMean float64
	FitDaysLeft   float64 // mean days fit for machines to the window's end; NaN where the rain of most past winters is not known
}

// Verdict is what to do with a row in the window.
type Verdict string

// The verdicts, see the package comment.
const (
	Hold        Verdict = "hold"
	LiftEarly   Verdict = "lift early"
	TooWeak     Verdict = "too weak"
	NotKnownYet Verdict = "not known yet"
)
