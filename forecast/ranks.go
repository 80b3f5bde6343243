package forecast

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Ranks are the ranks of some rows of a pick, ascending.
type Ranks []int

// String lists each, blanks between them: what a program reads. A spreadsheet
// takes no such list for a date.
func (r Ranks) String() string {
	var list []byte
	for i, rank := range r {
		if i > 0 {
			list = append(list, ' ')
		}
		list = strconv.AppendInt(list, int64(rank), 10)
	}
	return string(list)
}

// Ranges gives them as people write them, three and more in a row as one
// range: 2–5 7 8.
func (r Ranks) Ranges() string { return r.ranges(math.MaxInt) }

// ranges gives Ranges, or the beginning of it as soon as that has more than so many
// characters.
func (r Ranks) ranges(enough int) string {
	var all strings.Builder
	for i, length := 0, 0; i < len(r) && length <= enough; {
		end := i
		for end+1 < len(r) && r[end+1] == r[end]+1 {
			end++
		}
		part := strconv.Itoa(r[i])
		if end-i < 2 {
			end = i
		} else {
			part += "–" + strconv.Itoa(r[end])
		}
		if i > 0 {
			all.WriteByte(' ')
			length++
		}
		all.WriteString(part)
		length += utf8.RuneCountInString(part)
		i = end + 1
	}
	return all.String()
}

// Short is Ranges in at most width characters, "…" for what is left out.
func (r Ranks) Short(width int) string {
	all := []rune(r.ranges(width))
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
