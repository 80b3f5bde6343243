package weather

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"wintertop/weather/table"
)

// earliest and latest year that a file may hold.
const (
	firstYear = 1700
	lastYear  = 2199
)

// writtenDate is a date cell taken apart. Where the order of day and month is
// not plain from the cell itself, inOrder is false and a and b are the two
// numbers as they stand; else a is the month and b the day.
type writtenDate struct {
	year, a, b int
	inOrder    bool
}

const fourDigits = "write years with four digits, such as 2012-03-04"

// takeApart reads 2012-03-04 (also with / or . and with a time of day after
// it), 20120304, 04-Mar-2012, Mar 4 2012, and d/m/y or m/d/y with any of - / .
// between. fault says what is wrong with the text, hint what to do.
func takeApart(text string) (d writtenDate, fault, hint string) {
	notADate := table.Quote(text) + " is not a date"
	parts := dateParts(text)
	digits := func(i int) int { return len(parts[i]) }
	switch {
	case len(parts) == 1 && digits(0) == 8 && isNumber(parts[0]):
		return writtenDate{number(parts[0][:4]), number(parts[0][4:6]), number(parts[0][6:]), true}, "", ""
	case len(parts) == 1 && digits(0) == 5 && isNumber(parts[0]):
		return d, notADate, "this looks like a spreadsheet's day number; format the column as a date, 2012-03-04, and save again"
	case len(parts) == 1 && digits(0) == 6 && isNumber(parts[0]):
		return d, notADate, fourDigits
	case len(parts) != 3:
		return d, notADate, "write dates as 2012-03-04"
	}
	for i, p := range parts {
		if isNumber(p) {
			continue
		}
		month := monthNamed(p)
		others := append(append([]string{}, parts[:i]...), parts[i+1:]...)
		if month == 0 || !isNumber(others[0]) || !isNumber(others[1]) {
			return d, notADate, "write dates as 2012-03-04"
		}
		switch {
		case len(others[0]) == 4 && len(others[1]) <= 2:
			return writtenDate{number(others[0]), month, number(others[1]), true}, "", ""
		case len(others[1]) == 4 && len(others[0]) <= 2:
			return writtenDate{number(others[1]), month, number(others[0]), true}, "", ""
		}
		return d, "the year in " + table.Quote(text) + " does not have four digits", fourDigits
	}
	switch {
	case digits(0) == 4 && digits(1) <= 2 && digits(2) <= 2:
		return writtenDate{number(parts[0]), number(parts[1]), number(parts[2]), true}, "", ""
	case digits(2) == 4 && digits(0) <= 2 && digits(1) <= 2:
		return writtenDate{number(parts[2]), number(parts[0]), number(parts[1]), false}, "", ""
	case digits(0) <= 2 && digits(1) <= 2 && digits(2) <= 2:
		return d, "the year in " + table.Quote(text) + " does not have four digits", fourDigits
	}
	return d, notADate, "write dates as 2012-03-04"
}

// dateParts splits a date into its runs of digits and of letters, between
// which blanks and - / . , may stand, and leaves out a time of day after it. It
// gives nil where anything else stands in the text.
func dateParts(text string) []string {
	var parts []string
	for text != "" {
		if complete := len(parts) == 3 || len(parts) == 1 && len(parts[0]) == 8; complete && isTimeOfDay(text) {
			break
		}
		class := isDigit
		if isLetter(text[0]) {
			class = isLetter
		} else if !isDigit(text[0]) {
			if !strings.ContainsRune(" -/.,", rune(text[0])) {
				return nil
			}
			text = text[1:]
			continue
		}
		n := 1
		for n < len(text) && class(text[n]) {
			n++
		}
		parts = append(parts, text[:n])
		text = text[n:]
	}
	return parts
}

func isTimeOfDay(s string) bool {
	if s[0] != 'T' && s[0] != ' ' {
		return false
	}
	return strings.Trim(s[1:], "0123456789:.+-ZAPMapm ") == ""
}

func isDigit(b byte) bool  { return '0' <= b && b <= '9' }
func isLetter(b byte) bool { return 'a' <= b|0x20 && b|0x20 <= 'z' }

func isNumber(s string) bool { return s != "" && isDigit(s[0]) }

// number reads a run of at most four digits.
func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

// monthNamed gives 1 to 12 for an English month name of three letters or more.
func monthNamed(s string) int {
	for m := time.January; m <= time.December; m++ {
		if len(s) >= 3 && len(s) <= len(m.String()) && strings.EqualFold(s, m.String()[:len(s)]) {
			return int(m)
		}
	}
	return 0
}

// calendarDate checks year, month and day.
func calendarDate(year, month, day int) (d Date, fault string) {
	if year < firstYear || year > lastYear {
		return 0, fmt.Sprintf("year %d is outside %d to %d", year, firstYear, lastYear)
	}
	d = NewDate(year, time.Month(month), day)
	if y, m, dd := d.YMD(); y != year || int(m) != month || dd != day {
		return 0, fmt.Sprintf("there is no day %d in month %d of %d", day, month, year)
	}
	return d, ""
}

// dayOfYearDate checks a year and a day of the year counted from 1.
func dayOfYearDate(year, day int) (d Date, fault string) {
	if year < firstYear || year > lastYear {
		return 0, fmt.Sprintf("year %d is outside %d to %d", year, firstYear, lastYear)
	}
	d = NewDate(year, time.January, day)
	if y, _, _ := d.YMD(); day < 1 || y != year {
		return 0, fmt.Sprintf("there is no day %d in %d", day, year)
	}
	return d, ""
}

// headerOrder reads "dd/mm/yyyy" or "m/d/y" in a header.
func headerOrder(unit string) string {
	letters := strings.Map(func(r rune) rune {
		if r = r | 0x20; r == 'd' || r == 'm' || r == 'y' {
			return r
		}
		return -1
	}, unit)
	day, month := strings.Index(letters, "d"), strings.Index(letters, "m")
	switch {
	case len(letters) < 3 || len(letters) != len(table.Fold(unit)) || day < 0 || month < 0 || letters[0] == 'y':
		return ""
	case day < month:
		return "dmy"
	}
	return "mdy"
}
