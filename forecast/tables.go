package forecast

import (
	"strings"

	"wintertop/weather"
	"wintertop/weather/table"
)

// PickTable gives pick.csv, best row first within each place.
func PickTable(picks []*Picks) *table.Table {
	t := table.New("pick", "rank", "line", "planting", "verdict", "holds_from", "holds_until", "chance_best", "leaf_mass_end_g",
		"shaded_until", "notes", "winters", "basis", "tied", "reason", "place")
	for _, place := range picks {
		for _, p := range place.Rows {
			t.Add(table.Int(p.Rank), table.Text(p.Line), table.Text(p.Planting), table.Text(string(p.Verdict)),
				dateCell(p.HoldsFrom, p.HasHold), dateCell(p.HoldsUntil, p.HasHold), table.Num(p.ChanceBest, 4), table.Num(p.LeafEndG, 1),
				dateCell(p.ShadedUntil, p.HasShaded), table.Int(p.Notes), table.Int(p.Winters), table.Text(p.Basis), table.Text(p.Tied.String()), table.Text(p.Reason), table.Text(place.Place))
		}
	}
	return placed(t)
}

// placed drops the last column, place, where the trial has one place.
func placed(t *table.Table) *table.Table {
	last := len(t.Columns) - 1
	for _, row := range t.Rows {
		if row[last] != table.Text("") {
			return t
		}
	}
	t.Columns = t.Columns[:last]
	for i, row := range t.Rows {
		t.Rows[i] = row[:last]
	}
	return t
}

func dateCell(d weather.Date, known bool) table.Cell {
	if !known {
		return table.Blank()
	}
	return table.Text(d.String())
}

// PickDatesTable gives pick-dates.csv: every day from as-of to the window's end.
func PickDatesTable(picks []*Picks) *table.Table {
	t := table.New("pick-dates", "date", "line", "planting", "p_all", "p_lift", "p_shaded", "p_root_no_frost", "lift_share_mean", "fit_days_left", "place")
	for _, place := range picks {
		for _, p := range place.Rows {
			for _, d := range p.Dates {
				t.Add(table.Text(d.Date.String()), table.Text(p.Line), table.Text(p.Planting),
					table.Num(d.All, 3), table.Num(d.Lift, 3), table.Num(d.Shaded, 3), table.Num(d.RootNoFrost, 3),
					table.Num(d.LiftShareMean, 3), table.Num(d.FitDaysLeft, 1), table.Text(place.Place))
			}
		}
	}
	return placed(t)
}

// SeasonTable gives season.csv: each planting from emergence to the winter's
// last day.
func SeasonTable(seasons []*Season) *table.Table {
	t := table.New("season", "date", "line", "planting", "leaf_mass_g", "leaf_mass_lo", "leaf_mass_hi", "leaf_dry_g", "top_height_cm",
		"live_leaves", "leaf_area_index", "ground_light", "weed_cover", "lift_share", "lt50_c", "observed", "weather", "place")
	for _, s := range seasons {
		for _, p := range s.Plantings {
			for _, d := range p.Days {
				t.Add(table.Text(d.Date.String()), table.Text(p.Line), table.Text(p.Planting),
					table.Num(d.LeafG, 2), table.Num(d.LeafLoG, 2), table.Num(d.LeafHiG, 2), table.Num(d.LeafDryG, 3),
					table.Num(d.TopHeightCM, 1), table.Num(d.LiveLeaves, 1), table.Num(d.LeafAreaIndex, 2), table.Num(d.GroundLight, 3),
					table.Num(d.WeedCover, 3), table.Num(d.LiftShare, 3), table.Num(d.LT50C, 1), table.YesNo(d.Observed), table.Text(string(d.Weather)), table.Text(s.Place))
			}
		}
	}
	return placed(t)
}

// TraitsTable gives traits.csv, in the order of lines.csv.
func TraitsTable(lines []Learned) *table.Table {
	t := table.New("traits", "line", "notes", "winters", "top_size", "top_size_sd", "top_length_cm", "top_length_sd", "hardiness_c", "hardiness_sd", "basis", "kind", "p_hardier", "prior_from")
	for _, l := range lines {
		t.Add(table.Text(l.Line), table.Int(l.Notes), table.Int(l.Winters), table.Num(l.TopSize, 2), table.Num(l.TopSizeSD, 2),
			table.Num(l.TopLengthCM, 1), table.Num(l.TopLengthSDCM, 1), table.Num(l.HardinessC, 2), table.Num(l.HardinessSDC, 2),
			table.Text(l.Basis), table.Text(l.Kind), table.Num(l.Hardier, 3), table.Text(l.From))
	}
	return t
}

// TraitsText gives traits.csv with names of columns that fit a terminal.
func TraitsText(lines []Learned) *table.Table {
	t := TraitsTable(lines)
	for i, name := range t.Columns {
		name = strings.TrimPrefix(name, "top_")
		t.Columns[i] = strings.Replace(name, "hardiness_", "hardy_", 1)
	}
	return t
}

// LossSplitTable gives loss-split.csv.
func LossSplitTable(splits []Split) *table.Table {
	t := table.New("loss-split", "winter", "place", "line", "kept_seen", "kept_expected", "kept_standard", "line_part", "unexplained", "told_apart", "p_notes", "remark")
	for _, s := range splits {
		t.Add(table.Text(s.Winter.String()), table.Text(s.Place), table.Text(s.Line), table.Num(s.KeptSeen, 3), table.Num(s.KeptExpected, 3),
			table.Num(s.KeptStandard, 3), table.Num(s.LinePart, 3), table.Num(s.Unexplained, 3), table.Num(s.ToldApart, 3), table.Num(s.Chance, 4), table.Text(s.Remark))
	}
	return t
}
