package forecast

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// A note of ten times the mass is named with its file line, its neighbours are
// not; it is used all the same.
func TestAWrongNoteIsNamedAndUsed(t *testing.T) {
	notes := notesCSV + "2013-11-20,stout13,leaf_mass,290,g,10\n2013-12-01,stout13,leaf_mass,28,g,10\n"
	l, findings, err := Learn(t.Context(), loadAsOf(t, with(t, "notes.csv", notes), "2014-11-15"))
	if err != nil {
		t.Fatal(err)
	}
	var named []int
	for _, f := range findings {
		if strings.Contains(f.What, "standard deviations") {
			named = append(named, f.Line)
			if !strings.Contains(f.What, "leaf_mass of stout13 on 2013-11-20 lies") || !strings.Contains(f.What, "above") || f.TreatedAs != "used" {
				t.Errorf("finding %+v", f)
			}
		}
	}
	if len(named) != 1 || named[0] != 8 {
		t.Errorf("lines named: %v, want 8", named)
	}
	if l.Lines[0].Notes != 5 {
		t.Errorf("%d notes used", l.Lines[0].Notes)
	}
}

// Two wrong notes are both named, the sound one between them is not.
func TestTwoWrongNotesAreNamed(t *testing.T) {
	notes := notesCSV + "2013-11-10,stout13,leaf_mass,320,g,10\n2013-11-20,stout13,leaf_mass,29,g,10\n2013-12-01,stout13,leaf_mass,1.2,g,10\n"
	_, findings, err := Learn(t.Context(), loadAsOf(t, with(t, "notes.csv", notes), "2014-11-15"))
	if err != nil {
		t.Fatal(err)
	}
	var named []int
	for _, f := range findings {
		if strings.Contains(f.What, "standard deviations") {
			named = append(named, f.Line)
		}
	}
	if !slices.Equal(named, []int{8, 10}) {
		t.Errorf("lines named: %v, want 8 and 10", named)
	}
}

// In notes that are as learning supposes, few are named, and the chances of
// lines and winters are spread evenly: a quarter below 0.25.
func TestSoundNotesAgree(t *testing.T) {
	needsLong(t)
	m := usualTrial(24, 2)
	m.params = fixed(m.params)
	rng := rand.New(rand.NewPCG(21, 5))
	trial, _ := m.build(rng, inventedWeather(rng, 2001, 2), 2001)
	l, findings, err := Learn(context.Background(), trial)
	if err != nil {
		t.Fatal(err)
	}
	low, all := 0, 0
	for _, checks := range l.checks {
		for _, c := range checks {
			all++
			if c.chance < 0.25 {
				low++
			}
		}
	}
	t.Logf("%d of %d chances below 0.25, %d findings in %d notes", low, all, len(findings), len(trial.Notes))
	if low < 4 || low > 20 { // 48 chances: 12 ± 3
		t.Errorf("%d of %d chances are below 0.25", low, all)
	}
	if len(findings) > len(trial.Notes)/100 {
		t.Errorf("%d findings in %d sound notes: %v", len(findings), len(trial.Notes), findings)
	}
}

// What the notes cannot tell is said.
func TestFoldersThatTeachLittle(t *testing.T) {
	const head = "date,planting,trait,value,unit,plants\n"
	for _, c := range []struct{ name, notes, want string }{
		{"no notes", head, "no notes to learn from"},
		{"one note", head + "2013-10-15,plain13,leaf_mass,22,g,10\n", "notes of one line only"},
		{"one line", head + "2013-10-15,plain13,leaf_mass,22,g,10\n2014-02-20,plain13,leaf_mass,3,g,10\n2013-10-15,plain13,top_height,39,cm,10\n", "notes of one line only"},
		{"one winter", notesCSV, "notes of one winter only"},
		{"contradictory", notesCSV + "2014-03-01,stout13,leaf_mass,200,g,1000\n2014-03-02,stout13,leaf_mass,0,g,1000\n", "leaf_mass of stout13 on 2014-03-01 lies"},
	} {
		l, findings, err := Learn(t.Context(), loadAsOf(t, with(t, "notes.csv", c.notes), "2014-11-15"))
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, f := range findings {
			said = said || strings.Contains(f.What, c.want)
		}
		if !said {
			t.Errorf("%s: not said in %v", c.name, findings)
		}
		for _, x := range l.Lines {
			if !(x.TopSize > 0.2 && x.TopSize < 4 && x.TopSizeSD > 0 && x.TopLengthSDCM > 0 && x.HardinessC > -16 && x.HardinessC < -4 && x.HardinessSDC > 0.1 && x.HardinessSDC < 2) {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
		if a, b := l.Lines[0], l.Lines[2]; c.notes == head && (a.HardinessC != b.HardinessC || a.HardinessSDC != b.HardinessSDC || math.Abs(a.Hardier-0.5) > 1e-9) {
			t.Errorf("without notes lines differ: %+v, %+v", a, b)
		}
	}
}

// How much of a plot's deviation shows in a note is settled by what the model
// lets expect on the day, not by the note: two plots' notes of one day count
// alike, however low one of them.
func TestNotesOfADayCountAlike(t *testing.T) {
	fsys := with(t, "plantings.csv", plantingsCSV+"stout13b,stout,,2013-07-05,80,2013-09-10\n")
	fsys["notes.csv"].Data = []byte(notesCSV + "2014-02-20,stout13b,leaf_mass,0.2,g,10\n")
	l := learn(t, loadAsOf(t, fsys, "2014-11-15"))
	for _, readings := range l.seen[0] {
		last := readings[len(readings)-1]
		for _, r := range readings {
			if r.group == massGroup && r.note.Date == last.note.Date && (r.share != last.share || r.variance != last.variance) {
				t.Errorf("notes of %g and %g g on %s: shares %g and %g", r.note.Value, last.note.Value, r.note.Date, r.share, last.share)
			}
		}
	}
}

// Where a line's other seasons lead beyond the patch that is laid out, the whole grid is
// laid out: the chances are those of the whole grid from the first.
func TestSeasonsAreComparedWhereTheyLead(t *testing.T) {
	_, l := learnedOf(t, 6, 2, 37)
	for i := range l.lines {
		compared := func(in patch) []agreement {
			room := newLookRoom()
			l.checks[i] = nil
			l.compare(i, l.layers(i, season{}, l.pop, in, room), room)
			return l.checks[i]
		}
		want, near := compared(wholeGrid()), patchOf(l.settled[i].cells)
		for k, c := range compared(near.narrower()) {
			if math.Abs(c.chance/want[k].chance-1) > 0.01 {
				t.Errorf("line %d, %v: chance %.4g, laid out on the whole grid %.4g", i, c.season.winter, c.chance, want[k].chance)
			}
		}
	}
}

// narrower gives the patch without its outermost quarter on every side.
func (p patch) narrower() patch {
	cut := func(r [2]int) [2]int { return [2]int{r[0] + (r[1]-r[0])/4, r[1] - (r[1]-r[0])/4} }
	return patch{cut(p.sizes), cut(p.hards)}
}
