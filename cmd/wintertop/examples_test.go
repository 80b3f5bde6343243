package main

import (
	"encoding/csv"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// fahrenheit writes a station file in °F whose header does not say so.
func fahrenheit(from, to string) error {
	f, err := os.Open(from)
	if err != nil {
		return err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return err
	}
	text := "date,tmin,tmax\n"
	for _, row := range rows[1:] {
		for _, i := range []int{1, 2} {
			if c, err := strconv.ParseFloat(row[i], 64); err == nil {
				row[i] = strconv.FormatFloat(32+1.8*c, 'f', 1, 64)
			}
		}
		text += strings.Join(row[:3], ",") + "\n"
	}
	return os.WriteFile(to, []byte(text), 0o666)
}

// slowCommands names those that work for more than a moment: what is shown of
// them is read only, unless WINTERTOP_LONG=1, and their own scripts run them.
func slowCommands() []string {
	if os.Getenv("WINTERTOP_LONG") != "" {
		return nil
	}
	return []string{"demo", "constants", "verify", "report", "season", "learn", "pick", "order", "sow", "next", "trial", "cross"}
}

// Every example that the help shows runs, command by command, in a folder that
// holds what it names. The slow commands run with WINTERTOP_LONG=1; else their
// examples are read only.
func TestHelpExamplesRun(t *testing.T) {
	t.Parallel()
	slow := slowCommands()
	folder := t.TempDir()
	trial := filepath.Join(folder, "my-trial")
	err := fullTrial(trial)
	if err == nil {
		err = os.Rename(filepath.Join(trial, "logger.csv"), filepath.Join(folder, "leaves.csv"))
	}
	if err == nil {
		err = fahrenheit(filepath.Join(trial, "station.csv"), filepath.Join(folder, "airport.csv"))
	}
	if err == nil && slow == nil {
		err = fullTrial(filepath.Join(folder, "example", trialFolder))
	}
	if err != nil {
		t.Fatal(err)
	}
	shown := generalExamples()
	for _, c := range commands() {
		if len(c.examples) == 0 {
			t.Errorf("help of %s shows no example", c.name)
		}
		shown = append(shown, c.examples...)
	}
	for _, e := range shown {
		line, _, _ := strings.Cut(e.line, " > ")
		args := strings.Fields(line)[1:]
		if strings.HasPrefix(line, "wintertop start my-trial") {
			args[1] = "new-trial" // the trial that the others run on stays
		}
		if _, err := parse(args); err != nil {
			t.Errorf("%s: %v", line, err)
		}
		if slices.Contains(slow, args[0]) {
			continue
		}
		if slices.Contains(args, "--out") || args[0] == "start" {
			args = append(args, "--overwrite") // the same folder stands in several
		}
		cmd := exec.Command("wintertop", args...)
		cmd.Dir = folder
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", e.line, err, said)
		}
	}
}

var goCommand = regexp.MustCompile("(?m)(?:^|`)((?:[A-Z_]+=\\S+ )*go (?:test|run|generate) [^`\n#]*)")

// The go commands that DEVELOPERS.md shows name tests, benchmarks and packages
// that are there.
func TestDevelopersCommandsAreThere(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	found := goCommand.FindAllStringSubmatch(string(text), -1)
	if len(found) < 8 {
		t.Fatalf("found %d commands", len(found))
	}
	for _, f := range found {
		line := strings.TrimSpace(f[1])
		words := strings.Fields(line)
		var folders []string
		pattern, bench, fuzz := "", "", ""
		for i, w := range words {
			switch {
			case strings.HasPrefix(w, "./"):
				folders = append(folders, w)
			case w == "-run":
				pattern = strings.Trim(words[i+1], "'")
			case w == "-bench":
				bench = strings.Trim(words[i+1], "'")
			case w == "-fuzz":
				pattern, fuzz = "", words[i+1]
			}
		}
		if len(folders) == 0 {
			t.Errorf("%s names no package", line)
		}
		for _, folder := range folders {
			if folder == "./..." {
				continue
			}
			names := testNames(t, filepath.Join(root, folder))
			if names == nil {
				t.Errorf("%s: %s is no package with tests", line, folder)
			}
			for kind, asked := range map[string]string{"Test": pattern, "Benchmark": bench} {
				for _, each := range strings.Split(asked, "|") {
					if each != "" && each != "^$" && !slices.ContainsFunc(names, func(n string) bool {
						return strings.HasPrefix(n, kind) && regexp.MustCompile(each).MatchString(n)
					}) {
						t.Errorf("%s: no %s is named %s", line, strings.ToLower(kind), each)
					}
				}
			}
			if fuzz != "" && !slices.Contains(names, fuzz) {
				t.Errorf("%s: no fuzz target is named %s", line, fuzz)
			}
		}
		if words[0] == "go" && words[1] == "run" && words[2] == "./cmd/wintertop" {
			if _, err := parse(words[3:]); err != nil {
				t.Errorf("%s: %v", line, err)
			}
		}
	}
}

// testNames lists the functions of a package's test files.
func testNames(t *testing.T, folder string) (names []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*_test.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range parsed.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil {
				names = append(names, f.Name.Name)
			}
		}
	}
	return names
}
