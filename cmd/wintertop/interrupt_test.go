package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// fortyLines writes a trial of forty invented lines over three winters of
// Norderney's 72 (station data of the German weather service, DWD).
func fortyLines(t *testing.T, folder string) {
	t.Helper()
	data := os.Getenv("OPEN_DATA")
	if data == "" {
		t.Skip("OPEN_DATA does not name a folder of open station records")
	}
	station, err := os.ReadFile(filepath.Join(data, "norderney-daily-1947-2020.csv"))
	if err != nil {
		t.Fatal(err)
	}
	lines, plantings, notes := "line,kind\n", "planting,line,sown,plants_per_m2,last_cultivated\n", "date,planting,trait,value,unit,plants\n"
	for i := range 40 {
		line := fmt.Sprintf("line %02d", i+1)
		lines += line + ",candidate\n"
		for _, year := range []int{2017, 2018, 2019} {
			planting := fmt.Sprintf("%s %d", line, year)
			plantings += fmt.Sprintf("%s,%s,%d-07-05,80,%d-09-10\n", planting, line, year, year)
			notes += fmt.Sprintf("%d-10-15,%s,leaf_mass,%d,g,10\n", year, planting, 18+i%13)
			if year < 2019 {
				notes += fmt.Sprintf("%d-02-15,%s,leaf_mass,%.1f,g,10\n", year+1, planting, 3+float64(i%7))
			}
		}
	}
	for name, content := range map[string]string{
		"station": string(station), "site": "item,value,unit\nlatitude,53.7,deg\n", "lines": lines, "plantings": plantings, "notes": notes,
	} {
		put(t, filepath.Join(folder, name+".csv"), content)
	}
}

// A report stopped at any moment ends within half a second with 1 and leaves
// nothing, or had its page whole already.
func TestHundredInterruptions(t *testing.T) {
	if os.Getenv("WINTERTOP_LONG") == "" {
		t.Skip("set WINTERTOP_LONG=1: it takes some minutes")
	}
	base := t.TempDir()
	fortyLines(t, filepath.Join(base, "trial"))
	report := func() (*exec.Cmd, *bytes.Buffer) {
		cmd := exec.Command("wintertop", "report", "--in", "trial", "--as-of", "2019-11-20", "--out", "made/page", "--quiet")
		cmd.Dir = base
		said := &bytes.Buffer{}
		cmd.Stderr = said
		return cmd, said
	}
	start := time.Now()
	cmd, said := report()
	if err := cmd.Run(); err != nil {
		t.Fatal(err, said)
	}
	whole := time.Since(start)
	page, err := os.ReadFile(filepath.Join(base, "made", "page", "report.html"))
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 40))
	var stopped, late int
	var slowest time.Duration
	for i := range 100 {
		os.RemoveAll(filepath.Join(base, "made"))
		cmd, said := report()
		begun := time.Now()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if i%10 == 9 { // while it writes
			for exited := false; !exited && time.Since(begun) < 3*whole; time.Sleep(200 * time.Microsecond) {
				scraps, _ := filepath.Glob(filepath.Join(base, ".wintertop-*"))
				exited = len(scraps) > 0 || exists(filepath.Join(base, "made"))
			}
		} else {
			const awake = 100 * time.Millisecond // the program listens for signals by then
			time.Sleep(awake + time.Duration(r.Float64()*float64(whole-awake)))
		}
		cmd.Process.Signal([]os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}[i%3])
		signalled := time.Now()
		cmd.Wait()
		took := time.Since(signalled)
		got, err := os.ReadFile(filepath.Join(base, "made", "page", "report.html"))
		switch code := cmd.ProcessState.ExitCode(); {
		case code == 1 && strings.Contains(said.String(), "nothing was written"):
			stopped++
			slowest = max(slowest, took)
			if exists(filepath.Join(base, "made")) {
				t.Errorf("run %d: said nothing was written, but there is %s", i, entries(t, filepath.Join(base, "made")))
			}
		case (code == 0 || code == 1) && err == nil && bytes.Equal(got, page):
			late++
		default:
			t.Errorf("run %d: exit status %d, page of %d bytes (%v), said %q", i, code, len(got), err, said)
		}
		if took > 500*time.Millisecond {
			t.Errorf("run %d: ended %v after the signal", i, took)
		}
		if left := entries(t, base); left != "trial" && left != "made trial" {
			t.Errorf("run %d: left behind: %s", i, left)
		}
	}
	t.Logf("a whole run takes %v; %d of 100 were stopped, the slowest %v after the signal; %d had their page already",
		whole.Round(time.Millisecond), stopped, slowest.Round(time.Millisecond), late)
}
