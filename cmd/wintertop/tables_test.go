package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
)

// csvOf runs a command on a trial and reads the table it prints, by column.
func csvOf(t *testing.T, args ...string) map[string][]string {
	t.Helper()
	var out, said bytes.Buffer
	if err := run(context.Background(), append(args, "--format", "csv"), streams{nil, &out, &said}); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return byColumn(rows)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestTablesAgree(t *testing.T) {
	t.Parallel()
	trial := filepath.Join(t.TempDir(), "trial")
	if err := smallTrial(trial); err != nil {
		t.Fatal(err)
	}

	// The events counted in winters.csv are the rows of events.csv.
	winters := csvOf(t, "station", "--in", trial)
	events := csvOf(t, "events", "--in", trial, "--all")
	counted := map[string]int{}
	for _, w := range events["winter"] {
		counted[w]++
	}
	for i, w := range winters["winter"] {
		if got := int(number(t, winters["events"][i])); got != counted[w] {
			t.Errorf("winter %s: %d events in winters.csv, %d rows in events.csv", w, got, counted[w])
		}
		delete(counted, w)
	}
	if len(counted) > 0 || len(events["winter"]) == 0 {
		t.Errorf("winters without a row: %v", counted)
	}

	// p_all is never above its parts.
	folder := filepath.Join(t.TempDir(), "pick")
	pick := csvOf(t, "pick", "--in", trial, "--out", folder)
	dates := readCSV(t, filepath.Join(folder, "pick-dates.csv"))
	for i, all := range dates["p_all"] {
		for _, part := range []string{"p_lift", "p_shaded", "p_root_no_frost"} {
			if s := dates[part][i]; s != "" && number(t, all) > number(t, s) {
				t.Errorf("%s %s: p_all %s above %s %s", dates["date"][i], dates["line"][i], all, part, s)
			}
		}
	}

	// Verdicts and holds follow from the odds of each day.
	sum := 0.0
	for i, line := range pick["line"] {
		sum += number(t, pick["chance_best"][i])
		if got := strconv.Itoa(i + 1); pick["rank"][i] != got {
			t.Errorf("%s has rank %s, want %s", line, pick["rank"][i], got)
		}
		var days, good []string
		for j, l := range dates["line"] {
			if l != line {
				continue
			}
			if days = append(days, dates["date"][j]); number(t, dates["p_all"][j]) >= 0.8 {
				good = append(good, dates["date"][j])
			}
		}
		late := slices.IndexFunc(days, func(d string) bool { return d >= "2026-02-01" })
		want := "lift early"
		switch {
		case pick["notes"][i] == "0":
			want = "not known yet"
		case len(good) == 0:
			want = "too weak"
		case slices.Equal(days[late:], good[max(0, len(good)-len(days)+late):]):
			want = "hold"
		}
		if pick["verdict"][i] != want {
			t.Errorf("%s: verdict %s, want %s", line, pick["verdict"][i], want)
		}
		if len(good) > 0 && pick["holds_from"][i] != good[0] {
			t.Errorf("%s: holds from %s, want %s", line, pick["holds_from"][i], good[0])
		}
	}
	if math.Abs(sum-1) > 0.0005*float64(len(pick["line"])) {
		t.Errorf("chance_best sums to %g", sum)
	}
}

func readCSV(t *testing.T, path string) map[string][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return byColumn(rows)
}

// byColumn gives the values under each name of a table's first row.
func byColumn(rows [][]string) map[string][]string {
	columns := map[string][]string{}
	for i, name := range rows[0] {
		for _, row := range rows[1:] {
			columns[name] = append(columns[name], row[i])
		}
	}
	return columns
}
