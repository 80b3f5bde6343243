package table

import (
	"fmt"
	"strings"
	"testing"
)

func TestTooManyRowsAreRefused(t *testing.T) {
	layout := leaves
	layout.MostRows = 3
	for n := 2; n <= 5; n++ {
		s, err := Open(strings.NewReader("date,tmax\n"+strings.Repeat("\n1,2\n", n)), "leaf.csv", layout)
		if err != nil {
			t.Fatal(err)
		}
		rows := rowsOf(t, s)
		want := "<nil>"
		if n > 3 {
			want = "leaf.csv:9: more than 3 rows\nhint: give only the rows that are needed"
		}
		if got := fmt.Sprint(s.Findings().Err()); got != want || len(rows) != 1+min(n, 3) {
			t.Errorf("%d rows: %d read, %s", n, len(rows)-1, got)
		}
	}
}

func TestLongestCell(t *testing.T) {
	long := strings.Repeat("é", longestCell)
	s := open(t, "date,tmax,note,foreign\n1,2,"+long+",x\n1,2,"+long+"é,x\n1,2,x,"+long+"é\n")
	if rows := rowsOf(t, s); len(rows) != 3 || rows[1][2] != long {
		t.Errorf("%d rows", len(rows)-1)
	}
	if err := fmt.Sprint(s.Findings().Err()); err != "leaf.csv:3: note: a cell of 1001 characters\nhint: a cell may hold 1000 characters" {
		t.Errorf("got %s", err)
	}
}
