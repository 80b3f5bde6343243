package forecast

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// TooFewFitDays is what stands against a planting that is safe for a while but
// not long enough for the crew.
const TooFewFitDays = "too few fit days"

// act says what to do with each row and why. Where a week's wait would make a
// row, or one behind it in the order, late in more winters than are allowed, or
// it is so already, the crew begins now: with the rows that it may expect to
// get to this week.
func (o *Order) act() {
	late := -1 // last row in the order that must not wait
	thisWeekM2 := 0.0
	for i := range o.Rows {
		t := &o.Rows[i]
		thisWeekM2 += orElse(t.ThisWeekM2, 0)
		switch {
		case t.Verdict == NotKnownYet || !t.HasHold:
			t.Action = LookFirst
		case t.LastSafe <= o.AsOf+week, o.NoSchedule != "" && t.FitDays < 1:
			t.Action = LiftNow
		case t.Verdict == Hold:
			t.Action = LeaveIt
		default:
			t.Action = LiftBy
		}
		if t.Action != LookFirst && t.WeekLater < o.Assurance {
			late = i
		}
	}
	if o.Start > o.AsOf+week {
		late = -1 // nobody lifts yet
	}
	beforeM2 := 0.0
	for i := range o.Rows[:late+1] {
		t := &o.Rows[i]
		if t.Action == LookFirst {
			continue // looked at on the way
		}
		if beforeM2 <= thisWeekM2 {
			t.Action = LiftNow
		}
		beforeM2 += t.AreaM2
	}
	for i := range o.Rows {
		t := &o.Rows[i]
		t.Why = t.Reason
		if t.Action != LookFirst && t.InTime < o.Assurance {
			t.Why = TooFewFitDays
		}
		t.Say = o.say(*t)
	}
}

// say puts a row into one sentence.
func (o *Order) say(t Turn) string {
	var parts []string
	until, then := dayMonth(t.LastSafe), ""
	if t.LastSafe < o.To && t.Verdict != NotKnownYet {
		then = ", then " + thenWords(t.Reason)
	}
	switch {
	case t.Verdict == NotKnownYet:
		parts = append(parts, "look first and weigh ten tops, as nobody has noted this line")
	case t.Action == LookFirst:
		look := "look first, on no day is it sure enough: " + t.Reason
		if t.frozenAlready() {
			look = "look first and cut some roots, which may have frozen already"
		}
		parts = append(parts, look)
	case t.Action == LiftNow:
		parts = append(parts, "lift now, safe to "+until+then)
	case t.Action == LeaveIt:
		parts = append(parts, "can stand through the window, to "+until)
	case t.HoldsFrom > o.AsOf+1:
		parts = append(parts, "lift from "+dayMonth(t.HoldsFrom)+" to "+until+then)
	default:
		parts = append(parts, "lift by "+until+then)
	}
	if t.Action != LookFirst && !math.IsNaN(t.FitDays) {
		days := daysOf(t.FitDays, "fit day") + " till then"
		if t.DaysNeeded >= 1.5 {
			days += " for " + daysOf(t.DaysNeeded, "day") + " of work"
		}
		parts = append(parts, days)
	}
	if t.Action != LookFirst && !math.IsNaN(t.InTime) {
		words := "done in time in " + winters(t.InTime)
		if later := winters(t.WeekLater); t.Action == LiftNow && later != winters(t.InTime) {
			words += " (begun a week later in " + later + ")"
		}
		parts = append(parts, words)
	}
	if !math.IsNaN(t.ShareLost) {
		lost := lostWords(t.ShareLost)
		if t.frozenAlready() {
			lost += " if they are sound"
		}
		parts = append(parts, lost)
	}
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

// frozenAlready says whether roots that froze this winter are what keeps a row
// from being safe. What is lost is then reckoned as if they were sound.
func (t Turn) frozenAlready() bool { return t.Reason == RootsFrozen && t.Dates[0].RootNoFrost == 0 }

// lostWords says which share of an area is expected to be lost.
func lostWords(share float64) string {
	switch percent := math.Round(100 * share); percent {
	case 0:
		return "hardly any of it lost"
	case 100:
		return "nearly all of it lost"
	default:
		return fmt.Sprintf("about %.0f %% of it lost", percent)
	}
}

// thenWords says what comes after the last safe date.
func thenWords(reason string) string {
	switch reason {
	case RootsFrozen:
		return "roots may have frozen"
	case OpenToWeeds:
		return "the row is open to weeds"
	case TopsTooShort:
		return "the tops are too short"
	}
	return "there is " + reason
}

func daysOf(days float64, word string) string {
	switch n := math.Round(days); {
	case n == 0:
		return "hardly a " + word
	case n == 1:
		return "about 1 " + word
	default:
		return fmt.Sprintf("about %.0f %ss", n, word)
	}
}

// winters says a share of winters as people do.
func winters(share float64) string {
	switch {
	case share >= 0.995:
		return "every winter played"
	case share < 0.005:
		return "no winter played"
	case share >= 0.95:
		return "nearly every winter"
	case share < 0.05:
		return "hardly a winter"
	}
	if math.Round(10*share) == 1 {
		return "1 winter of 10"
	}
	return fmt.Sprintf("%.0f winters of 10", 10*share)
}

// Names gives the rows' names in their order: the line, and the planting with
// it where a line has several rows.
func (o *Order) Names() []string {
	var p Picks
	for _, t := range o.Rows {
		p.Rows = append(p.Rows, t.Pick)
	}
	return p.Names()
}

// Said gives the indices of the rows to put into words where there is room for
// some: those that can be lifted before those to look at, in their order.
func (o *Order) Said(room int) []int {
	var said []int
	for _, look := range []bool{false, true} {
		for i, t := range o.Rows {
			if (t.Action == LookFirst) == look && len(said) < room {
				said = append(said, i)
			}
		}
	}
	slices.Sort(said)
	return said
}

// Answer says in one sentence what to do this week. names holds a name for
// each row.
func (o *Order) Answer(names []string) string {
	if len(o.Rows) == 0 {
		return "Nothing stands any more."
	}
	of := map[Action][]string{}
	for i, t := range o.Rows {
		name := names[i]
		if t.Action == LiftBy {
			name += " by " + dayMonth(t.LastSafe)
		}
		of[t.Action] = append(of[t.Action], name)
	}
	var parts []string
	if now := of[LiftNow]; len(now) > 0 {
		parts = []string{"lift " + several(now, ", then ", 5)}
		if o.WeekFitDays < 1 {
			parts[0] += " on the first fit day"
		}
	} else if len(of[LookFirst]) < len(o.Rows) {
		parts = []string{"nothing has to be lifted"}
	}
	for _, group := range []struct {
		action Action
		words  string
	}{{LiftBy, "lift "}, {LeaveIt, "leave standing "}, {LookFirst, "look first at "}} {
		if names := of[group.action]; len(names) > 0 {
			parts = append(parts, group.words+several(names, ", ", 5))
		}
	}
	return "This week" + o.weekWords() + ": " + strings.Join(parts, "; ") + "."
}

// weekWords says what the week is likely to allow; "" where it is not known.
func (o *Order) weekWords() string {
	if math.IsNaN(o.WeekFitDays) {
		return ""
	}
	words := "hardly a fit day to be expected"
	if o.WeekFitDays >= 0.25 {
		words = strings.TrimSuffix(fmt.Sprintf("%.1f", o.WeekFitDays), ".0") + " fit days expected"
		if strings.HasPrefix(words, "1 ") {
			words = "1 fit day expected"
		}
	}
	thisWeekM2 := 0.0
	for _, t := range o.Rows {
		thisWeekM2 += t.ThisWeekM2
	}
	if thisWeekM2 >= 1 {
		words += fmt.Sprintf(", enough for %.0f m²", thisWeekM2)
	}
	return " (" + words + ")"
}

// RulesWords says what each order loses, a sentence; "" without a schedule.
func (o *Order) RulesWords() string {
	if len(o.Rules) == 0 {
		return ""
	}
	if len(o.Rows) == 1 {
		return fmt.Sprintf("Of its %.0f m² %.1f %% are lost in the mean of %d past winters.", o.AreaM2, 100*o.Rules[0].ShareLost, o.Traces)
	}
	var others []string
	var best RuleResult
	worst := 0.0
	for _, r := range o.Rules {
		worst = max(worst, r.ShareLost)
		if r.Recommended {
			best = r
		} else {
			others = append(others, fmt.Sprintf("%s %.1f %%", r.Rule, 100*r.ShareLost))
		}
	}
	words := fmt.Sprintf("This order, %s, loses %.1f %% of %.0f m² in the mean of %d past winters; %s.",
		best.Rule, 100*best.ShareLost, o.AreaM2, o.Traces, strings.Join(others, ", "))
	if worst-best.ShareLost < 0.01 {
		words += " The order hardly matters here."
	}
	return words
}
