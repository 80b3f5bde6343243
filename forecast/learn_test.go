package forecast

import (
	"math"
	"strings"
	"testing"
)

func TestHeavierHardierNotesGiveALargerHardierLine(t *testing.T) {
	l := learn(t, loadAsOf(t, folder(t), "2014-11-15"))
	stout, plain, unseen := l.Lines[0], l.Lines[1], l.Lines[2]
	if !(stout.TopSize > plain.TopSize) || !(stout.HardinessC < plain.HardinessC) {
		t.Errorf("stout %+v\nplain %+v", stout, plain)
	}
	if stout.Notes != 3 || stout.Winters != 1 || stout.Basis != FromNotes {
		t.Errorf("stout: %d notes of %d winters, %s; want 3, 1, notes", stout.Notes, stout.Winters, stout.Basis)
	}
	if !(stout.Hardier > 0.7) || !math.IsNaN(plain.Hardier) || math.Abs(unseen.Hardier-0.5) > 0.3 {
		t.Errorf("chances of being hardier than the check: stout %.2f, the check itself %.2f, unseen %.2f", stout.Hardier, plain.Hardier, unseen.Hardier)
	}
	if unseen.Basis != Assumed || unseen.Notes != 0 {
		t.Errorf("a line without notes: %+v", unseen)
	}
	few := learn(t, loadAsOf(t, folder(t), "2014-02-01")).Lines[0]
	if !(stout.HardinessSDC < few.HardinessSDC) {
		t.Errorf("hardiness ±%g from autumn notes, ±%g with a February note", few.HardinessSDC, stout.HardinessSDC)
	}
	if !(stout.HardinessSDC < unseen.HardinessSDC) {
		t.Errorf("hardiness is known to %g °C with notes, %g without", stout.HardinessSDC, unseen.HardinessSDC)
	}
}

// Before the first frost top height is length times a factor that hardly
// depends on the other traits, so ln length has the posterior of a normal mean:
// prior SD 0.17 between lines and 0.1 of their mean, line × winter SD 0.06, plot
// SD 0.1, plants SD 0.18/√n.
func TestLengthFromOneHeightIsANormalMean(t *testing.T) {
	text := "date,planting,trait,value,unit,plants\n2013-10-15,plain13,top_height,50,cm,9\n"
	l := learn(t, loadAsOf(t, with(t, "notes.csv", text), "2014-11-15"))
	noise := math.Sqrt(0.06*0.06 + 0.1*0.1 + 0.18*0.18/9)
	want := 1 / math.Sqrt(1/(0.17*0.17+0.1*0.1)+1/(noise*noise))
	got := l.Lines[1].TopLengthSDCM / l.Lines[1].TopLengthCM
	if math.Abs(got/want-1) > 0.06 { // the note's scale is ln(cm + 1): 2 % of the SD; the grid's cut 1 %; height also turns on size
		t.Errorf("SD of ln length %g, want %g", got, want)
	}
}

func TestNoteWithoutWeatherIsSetAsideAndNamed(t *testing.T) {
	rows := strings.SplitAfter(seattle(t), "\n")
	var kept []string
	for _, r := range rows {
		if !strings.HasPrefix(r, "2013-11-1") { // ten days out of the record
			kept = append(kept, r)
		}
	}
	trial := loadAsOf(t, with(t, "station.csv", strings.Join(kept, "")), "2014-11-15")
	l, findings, err := Learn(t.Context(), trial)
	if err != nil {
		t.Fatal(err)
	}
	if n := l.Lines[0].Notes; n != 2 {
		t.Errorf("%d notes of stout used, want the 2 of October", n)
	}
	named := 0
	for _, f := range findings {
		if strings.Contains(f.String(), "on 2014-02-20 is set aside") {
			named++
		}
	}
	if named != 2 {
		t.Errorf("%d of 2 notes named in %v", named, findings)
	}
}
