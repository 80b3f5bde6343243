package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// hostile cells stand where a name, a date or a number is wanted.
var hostile = []string{
	"", " ", "NA", "NaN", "Inf", "-Inf", "0x1F", "1e400", "-9999", "99999999999999999999", "1,5", "--", "0", "-1", "1e-300", "0.0000001",
	"=1+1", "@SUM(A1)", "<b>bold</b>", "&amp;", "\"", "'", "a\nb", "\x00", "\x1b[2J", "\u202egnp.exe", "\ufeff", "\xff\xfe", "é", "𝔘",
	"EXAMPLE 1", "yes", "frozen", "%", "furlong", "2012-02-30", "1699-12-31", "2199-12-31", "03/04/2012", "20240230", "2025-11-15",
	strings.Repeat("x", 5_000), strings.Repeat("9", 400),
}

// mutate spoils a CSV file in one or several ways.
func mutate(r *rand.Rand, content []byte) []byte {
	for range 1 + r.IntN(3) {
		content = mutateOnce(r, content)
	}
	return content
}

func mutateOnce(r *rand.Rand, content []byte) []byte {
	if len(content) == 0 {
		return []byte(hostile[r.IntN(len(hostile))])
	}
	if kind := r.IntN(16); kind < 5 {
		return mutateBytes(r, kind, slices.Clone(content))
	}
	rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll()
	if err != nil || len(rows) == 0 {
		return mutateBytes(r, r.IntN(5), slices.Clone(content))
	}
	at, to := r.IntN(len(rows)), r.IntN(len(rows))
	if r.IntN(4) == 0 {
		at = 0 // the header
	}
	row, column := rows[at], r.IntN(len(rows[at]))
	comma := ','
	switch r.IntN(11) {
	case 0: // cells swapped within a row
		other := r.IntN(len(row))
		row[column], row[other] = row[other], row[column]
	case 1: // cells swapped between rows
		other := r.IntN(len(rows[to]))
		row[column], rows[to][other] = rows[to][other], row[column]
	case 2: // a stretch of rows cut
		from, to := min(at, to), max(at, to)
		rows = slices.Delete(rows, from, to)
	case 3: // a row twice, or a second header
		rows = slices.Insert(rows, to, slices.Clone(row))
	case 4: // a column renamed
		rows[0][column%len(rows[0])] = []string{"tmin", "date", "value", "line", "note", "planting", "Item ", "x", ""}[r.IntN(9)]
	case 5: // a cell gone, the row ragged
		rows[at] = slices.Delete(row, column, column+1)
	case 6, 7: // a cell that cannot be
		row[column] = hostile[r.IntN(len(hostile))]
	case 8: // a whole column of one value
		word := hostile[r.IntN(len(hostile))]
		for _, row := range rows[1:] {
			if column < len(row) {
				row[column] = word
			}
		}
	case 9: // another separator
		comma = []rune{';', '\t', '|'}[r.IntN(3)]
	case 10: // rows in another order
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = comma
	for _, row := range rows {
		if err := w.Write(row); err != nil {
			panic(err)
		}
	}
	w.Flush()
	return b.Bytes()
}

func mutateBytes(r *rand.Rand, kind int, content []byte) []byte {
	at := r.IntN(len(content))
	switch kind {
	case 0: // bits flipped
		for range 1 + r.IntN(20) {
			content[r.IntN(len(content))] ^= 1 << r.IntN(8)
		}
	case 1: // cut short
		return content[:at]
	case 2: // a piece of it elsewhere
		to := r.IntN(len(content))
		return slices.Insert(content, to, content[min(at, to):max(at, to)]...)
	case 3: // noise
		for i := at; i < min(len(content), at+1+r.IntN(100)); i++ {
			content[i] = byte(r.IntN(256))
		}
	case 4: // compressed, perhaps cut short
		var b bytes.Buffer
		w := gzip.NewWriter(&b)
		w.Write(content)
		w.Close()
		return b.Bytes()[:b.Len()-r.IntN(2)*r.IntN(b.Len())]
	}
	return content
}

// fullTrial is the small trial with a weather forecast and a logger too.
func fullTrial(folder string) error {
	if err := smallTrial(folder); err != nil {
		return err
	}
	station, err := os.ReadFile(filepath.Join(folder, "station.csv"))
	if err != nil {
		return err
	}
	rows := strings.SplitAfter(strings.TrimSpace(string(station)), "\n")
	ahead := "date,tmin,tmax\n2025-11-16,1,7\n2025-11-17,-1,5\n2025-11-18,0,6\n"
	return errors.Join(
		os.WriteFile(filepath.Join(folder, "ahead.csv"), []byte(ahead), 0o666),
		os.WriteFile(filepath.Join(folder, "logger.csv"), []byte(rows[0]+strings.Join(rows[len(rows)-45:], "")+"\n"), 0o666),
	)
}

// Whatever is done to an input file, a command ends within five seconds with
// one of the four exit statuses, without a panic, and with a whole set of files
// or none. WINTERTOP_LONG=1 makes a thousand mutations of each file.
func TestMutatedInputIsAnswered(t *testing.T) {
	t.Parallel()
	each := 2
	if os.Getenv("WINTERTOP_LONG") != "" {
		each = 1000
	}
	base := t.TempDir()
	sound := filepath.Join(base, "sound")
	if err := fullTrial(sound); err != nil {
		t.Fatal(err)
	}
	// All of them read the same way; the quick ones come more often.
	var readers []*command
	for _, c := range commands() {
		if c.flags&fileFlags == 0 {
			continue
		}
		readers = append(readers, c)
		if slices.Contains([]string{"station", "events", "pick"}, c.name) {
			readers = append(readers, slices.Repeat([]*command{c}, 5)...)
		}
	}
	for i, role := range append(roles[:], loggerRole, demandRole) {
		t.Run(string(role), func(t *testing.T) {
			content, err := os.ReadFile(filepath.Join(sound, role.fileName()))
			if err != nil {
				t.Fatal(err)
			}
			trial := filepath.Join(base, string(role))
			if err := os.CopyFS(trial, os.DirFS(sound)); err != nil {
				t.Fatal(err)
			}
			var ended [4]int
			var longest time.Duration
			for seed := range each {
				r := rand.New(rand.NewPCG(uint64(seed), uint64(i)))
				c := readers[r.IntN(len(readers))]
				switch role {
				case loggerRole:
					c = stationCommand()
				case demandRole:
					c = sowCommand()
				}
				put(t, filepath.Join(trial, role.fileName()), string(mutate(r, content)))
				start := time.Now()
				code, fault := runSpoilt(c, trial, filepath.Join(base, "out-"+string(role)))
				took := time.Since(start)
				if errors.Is(fault, errTooLong) {
					code, took, fault = timeSpoilt(c, trial)
				}
				if fault != nil {
					t.Errorf("%s, seed %d: %v", c.name, seed, fault)
				}
				ended[code]++
				longest = max(longest, took)
			}
			t.Logf("%d mutations of %s: exit status 0 %d times, 1 %d, 2 %d, 3 %d; the longest took %v", each, role.fileName(), ended[0], ended[1], ended[2], ended[3], longest.Round(time.Millisecond))
		})
	}
}

// tooLong is how much time a run may take.
const tooLong = 5 * time.Second

var errTooLong = errors.New("not done after five seconds")

// timeSpoilt runs the program by itself and counts the processors' time: other
// programs may have kept it waiting.
func timeSpoilt(c *command, trial string) (code int, took time.Duration, fault error) {
	ctx, cancel := context.WithTimeout(context.Background(), 20*tooLong)
	defer cancel()
	cmd := exec.CommandContext(ctx, "wintertop", c.name, "--in", trial)
	if err := cmd.Run(); cmd.ProcessState == nil || cmd.ProcessState.ExitCode() < 0 {
		return exitCouldNot, tooLong, err
	}
	if took = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(); took > tooLong {
		fault = errTooLong
	}
	return cmd.ProcessState.ExitCode(), took, fault
}

// runSpoilt runs a command on a spoilt trial and says how it ended, and what
// was wrong with that.
func runSpoilt(c *command, trial, out string) (code int, fault error) {
	ctx, cancel := context.WithTimeout(context.Background(), tooLong)
	defer cancel()
	defer os.RemoveAll(out)
	var printed bytes.Buffer
	err := run(ctx, []string{c.name, "--in", trial, "--out", out}, streams{strings.NewReader(""), &printed, io.Discard})
	code = exitCode(err)
	var inner *internalError
	var said bytes.Buffer
	complain(&said, err)
	switch {
	case ctx.Err() != nil:
		return code, errTooLong
	case errors.As(err, &inner):
		return code, inner
	case err != nil && printed.Len() > 0:
		return code, fmt.Errorf("printed a table and ended with %w", err)
	case err != nil && (exists(out) || !strings.HasPrefix(said.String(), "wintertop: ")):
		return code, fmt.Errorf("files are left after %w", err)
	}
	for _, name := range c.files {
		if err == nil && strings.HasSuffix(name, ".csv") && !exists(filepath.Join(out, name)) {
			return code, fmt.Errorf("%s is not among the files", name)
		}
	}
	scraps, _ := filepath.Glob(filepath.Join(filepath.Dir(out), ".wintertop-*"))
	if len(scraps) > 0 {
		return code, fmt.Errorf("left behind: %v", scraps)
	}
	return code, nil
}
