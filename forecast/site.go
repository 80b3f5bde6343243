package forecast

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"wintertop/canopy"
	"wintertop/weather"
	"wintertop/weather/table"
)

// Site is what site.csv says of one place: numbers that replace the standard
// ones of each package.
type Site struct {
	Weather weather.Site
	Canopy  canopy.Params
	Params  Params
	// AreaPerDayM2 is what the crew lifts on a day fit for machines; 0 where the
	// file does not say.
	AreaPerDayM2 float64
	Sowing       Sowing
}

// Sowing is what a place says of the sowing to be planned; 0 where it does
// not.
type Sowing struct {
	YieldKGPerM2 float64 // roots that can be sold, of the whole stand
	CrewM2       float64 // that can be lifted on a day fit for machines
	AreaMaxM2    float64 // that can be sown
}

// standardSite holds every default of site.csv; the latitude is not set.
func standardSite() Site {
	s := Site{Canopy: canopy.Standard(), Params: Standard()}
	s.Weather.Params = weather.Standard()
	s.Weather.LatitudeDeg = math.NaN()
	return s
}

// siteRow is one row of site.csv.
type siteRow struct {
	Item  string `csv:"item"`
	Value string `csv:"value"`
	Unit  string `csv:"unit"`
	Place string `csv:"place"`
	line  int
}

var siteLayout = table.Layout{What: "site file", MostRows: 5_000, Fields: []table.Field{
	{Name: "item", Required: true}, {Name: "value", Required: true, Number: true}, {Name: "unit"}, {Name: "place"},
}}

// siteItem says how one numeric item of site.csv is read and where it goes.
type siteItem struct {
	quantity
	set func(*Site) *float64
}

// siteNumbers holds every numeric item of site.csv.
var siteNumbers = map[string]siteItem{
	"latitude":           {quantity{"a latitude", unitsAngle, -90, 90}, func(s *Site) *float64 { return &s.Weather.LatitudeDeg }},
	"min_offset":         {quantity{"an offset", unitsDiff, -10, 10}, func(s *Site) *float64 { return &s.Weather.MinOffsetC }},
	"max_offset":         {quantity{"an offset", unitsDiff, -10, 10}, func(s *Site) *float64 { return &s.Weather.MaxOffsetC }},
	"drop_base":          {quantity{"a drop", unitsDiff, -5, 5}, func(s *Site) *float64 { return &s.Weather.Params.DropBaseC }},
	"drop_per_degree":    {quantity{"a drop per degree", unitsNone, -1, 1}, func(s *Site) *float64 { return &s.Weather.Params.DropPerDegree }},
	"drop_sd":            {quantity{"a drop SD", unitsDiff, 0, 2}, func(s *Site) *float64 { return &s.Params.PlaceSDC }},
	"freezing_point":     {quantity{"a freezing point", unitsTemp, -5, 0}, func(s *Site) *float64 { return &s.Weather.Params.FreezingPointC }},
	"thaw_point":         {quantity{"a thaw point", unitsTemp, 0, 5}, func(s *Site) *float64 { return &s.Weather.Params.ThawPointC }},
	"dry_share":          {quantity{"a dry share", unitsShare, 0.05, 0.4}, func(s *Site) *float64 { return &s.Canopy.DryShare }},
	"belt_height":        {quantity{"a belt height", unitsLength, 1, 100}, func(s *Site) *float64 { return &s.Canopy.BeltHeightCM }},
	"grip_mass":          {quantity{"a grip mass", unitsMass, 0, 100}, func(s *Site) *float64 { return &s.Canopy.GripFreshG }},
	"wanted_share":       {quantity{"a share", unitsShare, 0, 1}, func(s *Site) *float64 { return &s.Params.WantedShare }},
	"assurance":          {quantity{"a share", unitsShare, 0, 1}, func(s *Site) *float64 { return &s.Params.Assurance }},
	"shade_limit":        {quantity{"a share", unitsShare, 0, 1}, func(s *Site) *float64 { return &s.Params.ShadeLimit }},
	"heritable_share":    {quantity{"a share", unitsShare, 0.01, 1}, func(s *Site) *float64 { return &s.Params.HeritableShare }},
	"within_line_share":  {quantity{"a share", unitsShare, 0, 2}, func(s *Site) *float64 { return &s.Params.WithinLineShare }},
	"bucket_full":        {quantity{"a share", unitsShare, 0.3, 1}, func(s *Site) *float64 { return &s.Weather.Params.BucketFull }},
	"injury_memory":      {quantity{"an injury memory", unitsDiff, 0, 10}, func(s *Site) *float64 { return &s.Canopy.InjuryMemory }},
	"area_per_day":       {quantity{"an area a day", unitsArea, 1, 1e5}, func(s *Site) *float64 { return &s.AreaPerDayM2 }},
	"crew_days_per_week": {quantity{"days a week", unitsDays, 0.5, 7}, func(s *Site) *float64 { return &s.Params.CrewDaysPerWeek }},
	"yield_per_m2":       {yieldPerM2, func(s *Site) *float64 { return &s.Sowing.YieldKGPerM2 }},
	"crew":               {quantity{"a crew's day", unitsArea, 1, 1e6}, func(s *Site) *float64 { return &s.Sowing.CrewM2 }},
	"area_max":           {quantity{"an area", unitsArea, 1, 1e8}, func(s *Site) *float64 { return &s.Sowing.AreaMaxM2 }},
}

// siteSwitches holds every yes/no item of site.csv.
var siteSwitches = map[string]func(*Site) *bool{
	"coast":    func(s *Site) *bool { return &s.Weather.Coast },
	"undercut": func(s *Site) *bool { return &s.Canopy.Undercut },
}

// readSite reads all rows of site.csv.
func readSite(r io.Reader, name string) ([]siteRow, table.Findings, error) {
	source, err := table.Open(r, name, siteLayout)
	if err != nil {
		return nil, nil, err
	}
	var rows []siteRow
	err = weather.Decode(source, func(line int, row siteRow) error {
		row.line = line
		row.Item = strings.TrimSpace(row.Item)
		for _, item := range siteItems() {
			if table.Fold(item) == table.Fold(row.Item) {
				row.Item = item
			}
		}
		row.Place = strings.TrimSpace(row.Place)
		rows = append(rows, row)
		return nil
	})
	return rows, source.Findings(), err
}

// siteOf gives the site of one place: the rows without a place, then those
// that name it. A later row for the same item and place is a fault.
func siteOf(rows []siteRow, file, place string) (Site, table.Findings) {
	site := standardSite()
	var findings table.Findings
	for _, own := range []bool{false, true} {
		seen := map[string]int{}
		for _, row := range rows {
			if own && (row.Place == "" || row.Place != place) || !own && row.Place != "" {
				continue
			}
			fault := table.Finding{File: file, Line: row.line, Column: row.Item, Value: row.Value, TreatedAs: "refused", Severity: table.Fault}
			if first := seen[row.Item]; first != 0 {
				fault.What = fmt.Sprintf("%s stands on line %d already", row.Item, first)
				findings = append(findings, fault)
				continue
			}
			seen[row.Item] = row.line
			if what, hint := site.set(row); what != "" {
				fault.What, fault.Hint = what, hint
				findings = append(findings, fault)
			}
		}
	}
	if math.IsNaN(site.Weather.LatitudeDeg) && findings.Err() == nil {
		what := "no latitude"
		if place != "" {
			what += " for " + place
		}
		findings = append(findings, table.Finding{File: file, Column: "latitude", What: what, TreatedAs: "refused",
			Hint: "add a row such as latitude,50.2,deg (south negative)", Severity: table.Fault})
	}
	if p := site.Weather.Params; p.FreezingPointC >= p.ThawPointC {
		findings = append(findings, table.Finding{File: file, Column: "freezing_point", What: "the freezing point is not below the thaw point", TreatedAs: "refused", Severity: table.Fault})
	}
	return site, findings
}

// set stores one row; what is empty if that went well.
func (s *Site) set(row siteRow) (what, hint string) {
	value := strings.TrimSpace(row.Value)
	if row.Item == "name" {
		s.Weather.Name = value
		return "", ""
	}
	if flag, ok := siteSwitches[row.Item]; ok {
		switch strings.ToLower(value) {
		case "yes":
			*flag(s) = true
		case "no":
			*flag(s) = false
		default:
			return fmt.Sprintf("%s is %q", row.Item, value), "write yes or no"
		}
		return "", ""
	}
	item, ok := siteNumbers[row.Item]
	if !ok {
		what = fmt.Sprintf("item %q is not known", row.Item)
		if near, ok := table.Nearest(row.Item, siteItems()); ok {
			return what, fmt.Sprintf("did you mean %q?", near)
		}
		return what, "known: " + strings.Join(siteItems(), ", ")
	}
	number := table.ParseNumber(value)
	if number.Missing() {
		return row.Item + " has no value", "give one, or delete the row to use the default"
	}
	if number.Fault != "" {
		return fmt.Sprintf("%s: %s", row.Item, number.Fault), ""
	}
	ours, what, hint := item.convert(number.Value, row.Unit)
	if what != "" {
		return row.Item + ": " + what, hint
	}
	*item.set(s) = ours
	return "", ""
}

// siteItems names every item of site.csv, in order.
func siteItems() []string {
	names := slices.Concat([]string{"name"}, slices.Collect(maps.Keys(siteSwitches)), slices.Collect(maps.Keys(siteNumbers)))
	slices.Sort(names)
	return names
}
