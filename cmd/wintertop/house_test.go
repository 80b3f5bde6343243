package main

import (
	"bytes"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// house says what each package may import besides the standard library.
var house = map[string][]string{
	"weather/table": {"golang.org/x/text"},
	"weather":       {"wintertop/weather/table", "github.com/gocarina/gocsv", "gonum.org/v1/gonum"},
	"canopy":        {"wintertop/weather", "gonum.org/v1/gonum"},
	"forecast": {
		"wintertop/canopy", "wintertop/weather", "wintertop/weather/table",
		"github.com/gocarina/gocsv", "gonum.org/v1/gonum", "golang.org/x/sync",
	},
	"plots": {
		"wintertop/forecast", "wintertop/canopy", "wintertop/weather", "wintertop/weather/table",
		"gonum.org/v1/gonum", "gonum.org/v1/plot", "golang.org/x/image", "golang.org/x/text",
	},
	"cmd/wintertop": {
		"wintertop/cmd/wintertop/demo", "wintertop/plots", "wintertop/forecast", "wintertop/canopy", "wintertop/weather", "wintertop/weather/table",
		"github.com/spf13/pflag", "golang.org/x/term", "golang.org/x/text", "golang.org/x/sync",
	},
	// The example and what makes it belong to the command.
	"cmd/wintertop/demo":          {"wintertop/forecast", "wintertop/canopy", "wintertop/weather", "wintertop/weather/table"},
	"cmd/wintertop/demo/generate": {"wintertop/cmd/wintertop/demo", "wintertop/forecast", "wintertop/canopy", "wintertop/weather", "wintertop/weather/table"},
}

// forTests may be imported by tests of any package.
var forTests = []string{"pgregory.net/rapid", "github.com/google/go-cmp", "github.com/rogpeppe/go-internal", "golang.org/x/text"}

// topLevel is all that may lie at the top of the repository.
var topLevel = []string{
	"cmd", "forecast", "weather", "canopy", "testdata", "plots", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE",
	".ci", ".gitignore", ".gitattributes",
}

const (
	root     = "../.."
	maxLong  = 300 // lines of a file
	badRooms = "util utils helper helpers common misc types"
)

func goFiles(t *testing.T) (files []string) {
	t.Helper()
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && p != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if strings.HasSuffix(p, ".go") {
			rel, err := filepath.Rel(root, p)
			files = append(files, filepath.ToSlash(rel))
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// misdrawn lists the imports of a file that the house does not draw.
func misdrawn(file string, imports []string) (wrong []string) {
	allowed, ok := house[path.Dir(file)]
	if !ok {
		return []string{"a package that the house does not know"}
	}
	for _, p := range imports {
		first, _, _ := strings.Cut(p, "/")
		within := func(list []string) bool {
			return slices.ContainsFunc(list, func(a string) bool {
				// A package of our own is no arrow to those below it.
				return p == a || !strings.HasPrefix(a, "wintertop/") && strings.HasPrefix(p, a+"/")
			})
		}
		switch {
		case p == "net" || strings.HasPrefix(p, "net/"):
			wrong = append(wrong, p)
		case !strings.Contains(first, ".") && first != "wintertop", within(allowed):
		case strings.HasSuffix(file, "_test.go") && (within(forTests) || p == "wintertop/"+path.Dir(file)):
		default:
			wrong = append(wrong, p)
		}
	}
	return wrong
}

func TestImportsFollowTheHouse(t *testing.T) {
	files := goFiles(t)
	if len(files) < 50 {
		t.Fatalf("found only %d files", len(files))
	}
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, file), nil, parser.ImportsOnly)
		if err != nil {
			t.Error(err)
			continue
		}
		var imports []string
		for _, spec := range parsed.Imports {
			p, _ := strconv.Unquote(spec.Path.Value)
			imports = append(imports, p)
		}
		if wrong := misdrawn(file, imports); len(wrong) > 0 {
			t.Errorf("%s imports what the house does not draw: %s", file, strings.Join(wrong, ", "))
		}
	}
}

func TestHouseRefusesWrongArrows(t *testing.T) {
	for _, wrong := range [][2]string{
		{"weather/sun.go", "wintertop/canopy"},
		{"weather/table/table.go", "wintertop/weather"},
		{"weather/table/table.go", "github.com/gocarina/gocsv"},
		{"canopy/leaf.go", "wintertop/weather/table"},
		{"canopy/leaf.go", "wintertop/forecast"},
		{"forecast/pick.go", "wintertop/plots"},
		{"forecast/pick.go", "pgregory.net/rapid"},
		{"plots/page.go", "net/http"},
		{"extra/extra.go", "fmt"},
	} {
		if misdrawn(wrong[0], wrong[1:]) == nil {
			t.Errorf("%s may import %s", wrong[0], wrong[1])
		}
	}
}

func TestFilesAreShortAndWellNamed(t *testing.T) {
	for _, file := range goFiles(t) {
		content, err := os.ReadFile(filepath.Join(root, file))
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(content, []byte("\n")); n > maxLong {
			t.Errorf("%s has %d lines, more than %d", file, n, maxLong)
		}
		name := strings.TrimSuffix(strings.TrimSuffix(path.Base(file), ".go"), "_test")
		if slices.Contains(strings.Fields(badRooms), name) {
			t.Errorf("%s is named after no subject", file)
		}
	}
}

func TestTopLevelHoldsNothingElse(t *testing.T) {
	// What git ignores, such as the results of a run, may lie about.
	cmd := exec.Command("git", "ls-files", "--cached", "--others", "--exclude-standard")
	cmd.Dir = root
	listed, err := cmd.Output()
	var names []string
	if err == nil {
		for name := range strings.Lines(string(listed)) {
			top, _, _ := strings.Cut(strings.TrimSpace(name), "/")
			names = append(names, top)
		}
	} else {
		entries, err := os.ReadDir(root)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if e.Name() != ".git" {
				names = append(names, e.Name())
			}
		}
	}
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		if !slices.Contains(topLevel, name) {
			t.Errorf("%s does not belong at the top of the repository", name)
		}
	}
}

func TestNoNetworkIsLinked(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Skip("the go command is not there: ", err)
	}
	for _, p := range strings.Fields(string(out)) {
		if p == "net/http" || strings.HasPrefix(p, "net/http/") {
			t.Errorf("%s is linked", p)
		}
	}
}
