package weather

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// Every field of Params is one row, within its range, with unit, standing and
// source.
func TestConstants(t *testing.T) {
	p := Standard()
	rows := p.Constants()
	fields := map[*float64]string{}
	v := reflect.ValueOf(&p).Elem()
	for i := range v.NumField() {
		fields[v.Field(i).Addr().Interface().(*float64)] = v.Type().Field(i).Name
	}
	names := map[string]bool{}
	snake := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	for _, c := range rows {
		if _, ours := fields[c.Value]; !ours {
			t.Errorf("%s points at no field of its own", c.Name)
			continue
		}
		delete(fields, c.Value)
		if !(c.Low <= *c.Value && *c.Value <= c.High && c.Low < c.High) {
			t.Errorf("%s is %v, outside %v to %v", c.Name, *c.Value, c.Low, c.High)
		}
		if c.Symbol == "" || c.Unit == "" || c.Source == "" || c.Standing.String() == "" || names[c.Name] || !snake.MatchString(c.Name) {
			t.Errorf("incomplete or twice: %+v", c)
		}
		names[c.Name] = true
	}
	for _, name := range fields {
		t.Errorf("no row for %s", name)
	}
}

// Each source key in a comment or in the table of constants is in the list of
// references of the package comment.
func TestSourcesAreListed(t *testing.T) {
	page, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, list, found := strings.Cut(string(page), "# References")
	if !found {
		t.Fatal("the package comment has no references")
	}
	listed := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^//\t(\S.*?)  `).FindAllStringSubmatch(list, -1) {
		listed[m[1]] = true
	}
	key := regexp.MustCompile(`FAO-56|ETCCDI|KNMI|[A-Z]\w+(?: & [A-Z]\w+| et al\.)? (?:18|19|20)\d\d\b`)
	month := regexp.MustCompile(`^(January|February|March|April|May|June|July|August|September|October|November|December) `)
	used := 0
	check := func(at token.Position, text string) {
		for _, k := range key.FindAllString(strings.Join(strings.Fields(strings.ReplaceAll(text, "//", "")), " "), -1) {
			if month.MatchString(k) {
				continue
			}
			used++
			if !listed[k] {
				t.Errorf("%s: %q is not in the list of references", at, k)
			}
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || name == "doc.go" {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, group := range file.Comments {
			var text strings.Builder
			for _, line := range group.List {
				text.WriteString(line.Text + "\n")
			}
			check(set.Position(group.Pos()), text.String())
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if s, ok := n.(*ast.BasicLit); ok && s.Kind == token.STRING && name == "constants.go" {
				check(set.Position(s.Pos()), strings.Trim(s.Value, `"`))
			}
			return true
		})
	}
	if used < 10 {
		t.Errorf("only %d keys found in the comments", used)
	}
}
