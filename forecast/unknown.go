package forecast

import "wintertop/weather/table"

// unknown says what the notes as a whole cannot tell.
func (l *Learning) unknown(trial *Trial) table.Findings {
	lines, winters := 0, map[season]bool{}
	for _, seen := range l.seen {
		if len(seen) > 0 {
			lines++
		}
		for s := range seen {
			winters[s] = true
		}
	}
	say := func(what, hint string) table.Findings {
		return table.Findings{{File: trial.notesFile(), Severity: table.Note, TreatedAs: "used", What: what, Hint: hint}}
	}
	switch {
	case lines == 0:
		return say("no notes to learn from: every line shows what is assumed of any line, and none can be told from another", "weigh tops of a few plants of each line in autumn before the first frost and again in late winter")
	case lines == 1:
		return say("notes of one line only: whether it or its winters are out of the ordinary cannot be told apart", "note the other lines, above all a check, on the same days")
	case len(winters) == 1:
		return say("notes of one winter only: what is the line's own and what was the winter's cannot be told apart yet", "")
	}
	return nil
}
