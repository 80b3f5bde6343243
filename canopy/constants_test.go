package canopy

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"wintertop/weather"
)

func TestConstants(t *testing.T) {
	p := Standard()
	fields := map[*float64]string{}
	v := reflect.ValueOf(&p).Elem()
	for i := range v.NumField() {
		if x, ok := v.Field(i).Addr().Interface().(*float64); ok {
			fields[x] = v.Type().Field(i).Name
		}
	}
	names, symbols := map[string]bool{}, map[string]bool{}
	for _, c := range p.Constants() {
		if fields[c.Value] == "" {
			t.Errorf("%s: no field, or twice", c.Name)
		}
		delete(fields, c.Value)
		if !(c.Low <= *c.Value && *c.Value <= c.High && c.Low < c.High) {
			t.Errorf("%s: %v outside %v to %v", c.Name, *c.Value, c.Low, c.High)
		}
		if c.Name == "" || c.Symbol == "" || c.Source == "" || names[c.Name] || symbols[c.Symbol] {
			t.Errorf("%s (%s): blank or twice, source %q", c.Name, c.Symbol, c.Source)
		}
		names[c.Name], symbols[c.Symbol] = true, true
	}
	for _, name := range fields {
		t.Errorf("%s is not in the table", name)
	}
}

func TestSourcesAreReferences(t *testing.T) {
	text, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, list, _ := strings.Cut(string(text), "References")
	var keys []string
	for _, row := range regexp.MustCompile(`(?m)^//\t(.+?)  `).FindAllStringSubmatch(list, -1) {
		keys = append(keys, row[1])
	}
	cites := func(source string) bool {
		return slices.ContainsFunc(keys, func(key string) bool { return strings.Contains(source, key) })
	}
	p := Standard()
	for _, c := range p.Constants() {
		switch c.Standing {
		case weather.Cited, weather.Memory, weather.Derived, weather.Fitted:
			if !cites(c.Source) {
				t.Errorf("%s is %s, but %q is not in the references", c.Name, c.Standing, c.Source)
			}
		case weather.Practice:
			if !strings.HasPrefix(c.Source, "common practice, no source") {
				t.Errorf("%s: %q", c.Name, c.Source)
			}
		}
	}
	if len(keys) < 10 || cites("nobody 1999") {
		t.Errorf("references read: %q", keys)
	}
}

// outcome is all that a stand and its lifting show, over two sowings in a
// mild and a hard winter of hot summers.
func outcome(t *testing.T, p Params, winters []*weather.Winter) (all []float64) {
	for _, w := range winters {
		for _, later := range []weather.Date{0, 50} {
			planting := Planting{Sown: sown + later, LastCultivated: sown + later + 30, PlantsPerM2: 60}
			s := Sow(planting, []Traits{{1, -9.5}}, p)
			lifting := NewLifting(p)
			s.Grow(w, int(later), len(w.Days)-1, func(day int, s *Stand) {
				for _, of := range []func([]float64) []float64{s.LeafG, s.RelativeHeight, s.LiveLeaves, s.LeafAreaIndex, s.GroundLight, s.WeedCover, s.LT50C} {
					all = append(all, of(nil)[0])
				}
				if day%10 == 0 {
					all = append(all, lifting.Share(s.LeafG(nil)[0], 40*s.RelativeHeight(nil)[0]))
				}
			})
		}
	}
	return all
}

func TestEveryConstantMatters(t *testing.T) {
	winters := []*weather.Winter{madeWinter(t, 3, 12), madeWinter(t, 7, 8)}
	for _, w := range winters {
		for i := range w.MaxC[:60] {
			w.MaxC[i] = max(w.MaxC[i], 29)
		}
	}
	undercut := Standard()
	undercut.InjuryMemory = 2
	not := undercut
	not.Undercut = false
	for i, c := range undercut.Constants() {
		low, high := undercut, undercut
		if strings.HasPrefix(c.Name, "pull_not") {
			low, high = not, not
		}
		*low.Constants()[i].Value, *high.Constants()[i].Value = c.Low, c.High
		if slices.Equal(outcome(t, low, winters), outcome(t, high, winters)) {
			t.Errorf("%s changes nothing between %v and %v", c.Name, c.Low, c.High)
		}
	}
}

func TestNumbersAreInTheTable(t *testing.T) {
	// Formulas may hold these; 3 is the three leaves that make the height.
	plain := []string{"0", "0.0", "1", "2", "3", "0.5"}
	// Numbers of the arithmetic, not of the canopy: each leaves the results
	// within the error that the tests of lifting and stand allow.
	arithmetic := []string{
		"liftNodes", "liftReach", "liftSteps", "liftNearest", "massStep", "heightStep", "tableReach", "leastOfPull",
		"wantedFrom", "wantedBits", "wantedShift", "wantedFirst", "cdfReach", "cdfCuts", "rowsByDraw", "rowsBySlot",
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || name == "exp.go" { // checked against the library's exponential
			continue
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				return n.Name.Name != "Standard" && n.Name.Name != "Constants"
			case *ast.ValueSpec:
				return !slices.Contains(arithmetic, n.Names[0].Name)
			case *ast.BasicLit:
				if n.Kind != token.INT && n.Kind != token.FLOAT {
					return true
				}
				seen++
				if !slices.Contains(plain, n.Value) {
					t.Errorf("%s: %s is in no table", fset.Position(n.Pos()), n.Value)
				}
			}
			return true
		})
	}
	if seen < 50 {
		t.Errorf("only %d numbers seen", seen)
	}
}
