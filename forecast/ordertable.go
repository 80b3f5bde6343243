package forecast

import "wintertop/weather/table"

// OrderTable gives order.csv: the plantings of each place in the order in which
// to lift them.
func OrderTable(orders []*Order) *table.Table {
	t := table.New("order", "order", "line", "planting", "area_m2", "action", "last_safe", "reason", "fit_days", "days_needed",
		"p_in_time", "p_in_time_week_later", "done_by", "share_lost", "area_lost_m2", "this_week_m2", "holds_from", "rank", "notes", "basis", "say", "place")
	for _, o := range orders {
		for i, r := range o.Rows {
			t.Add(table.Int(i+1), table.Text(r.Line), table.Text(r.Planting), table.Num(r.AreaM2, 0), table.Text(r.Words()),
				dateCell(r.LastSafe, r.HasHold), table.Text(r.Why), table.Num(r.FitDays, 1), table.Num(r.DaysNeeded, 1),
				table.Num(r.InTime, 3), table.Num(r.WeekLater, 3), dateCell(r.DoneBy, r.HasDoneBy), table.Num(r.ShareLost, 3), table.Num(r.ShareLost*r.AreaM2, 0),
				table.Num(r.ThisWeekM2, 0), dateCell(r.HoldsFrom, r.HasHold), table.Int(r.Rank), table.Int(r.Notes), table.Text(r.Basis), table.Text(r.Say), table.Text(o.Place))
		}
	}
	return placed(t)
}

// RulesTable gives order-rules.csv: what each order loses over the past winters.
func RulesTable(orders []*Order) *table.Table {
	t := table.New("order-rules", "rule", "area_lost_m2", "share_lost", "recommended", "winters", "place")
	for _, o := range orders {
		for _, r := range o.Rules {
			t.Add(table.Text(string(r.Rule)), table.Num(r.LostM2, 0), table.Num(r.ShareLost, 3), table.YesNo(r.Recommended), table.Int(o.Traces), table.Text(o.Place))
		}
	}
	return placed(t)
}

// OrderSinceTable sets the order of today beside that of an earlier day, row by
// row. A row that was not there then is blank on that side.
func OrderSinceTable(now, then []*Order) *table.Table {
	t := table.New("order-since", "order_then", "order", "line", "planting", "action_then", "action", "last_safe_then", "last_safe",
		"p_in_time_then", "p_in_time", "share_lost_then", "share_lost", "changed", "place")
	type earlier struct {
		at int
		Turn
	}
	before := map[string]earlier{}
	for _, o := range then {
		for i, r := range o.Rows {
			before[r.Planting] = earlier{i + 1, r}
		}
	}
	for _, o := range now {
		for i, r := range o.Rows {
			old, known := before[r.Planting]
			row := []table.Cell{table.Blank(), table.Int(i + 1), table.Text(r.Line), table.Text(r.Planting), table.Blank(), table.Text(r.Words()),
				table.Blank(), dateCell(r.LastSafe, r.HasHold), table.Blank(), table.Num(r.InTime, 3), table.Blank(), table.Num(r.ShareLost, 3)}
			if known {
				row[0], row[4], row[6] = table.Int(old.at), table.Text(old.Words()), dateCell(old.LastSafe, old.HasHold)
				row[8], row[10] = table.Num(old.InTime, 3), table.Num(old.ShareLost, 3)
			}
			changed := !known || old.Words() != r.Words() || row[6] != row[7]
			t.Add(append(row, table.YesNo(changed), table.Text(o.Place))...)
		}
	}
	return placed(t)
}
