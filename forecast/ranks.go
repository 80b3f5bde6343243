package forecast

import (
	"fmt"
	"strings"
)

// Ranks are the ranks of some rows of a pick, ascending.
type Ranks []int

// String lists each, blanks between them: what a program reads. A spreadsheet
// takes no such list for a date.
func (r Ranks) String() string { return strings.Trim(fmt.Sprint([]int(r)), "[]") }

// Ranges gives them as people write them, three and more in a row as one
// range: 2–5 7 8.
func (r Ranks) Ranges() string {
	var parts []string
	for i := 0; i < len(r); {
		end := i
		for end+1 < len(r) && r[end+1] == r[end]+1 {
			end++
		}
		if end-i < 2 {
			end = i
			parts = append(parts, fmt.Sprint(r[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d–%d", r[i], r[end]))
		}
		i = end + 1
	}
	return strings.Join(parts, " ")
}

// Short is Ranges in at most width characters, "…" for what is left out.
func (r Ranks) Short(width int) string {
	all := []rune(r.Ranges())
	if len(all) <= width {
		return string(all)
	}
	for end := width - 2; end > 0; end-- {
		if all[end] == ' ' {
			return string(all[:end]) + " …"
		}
	}
	return "…"
}
