package forecast

import "testing"

func TestRanks(t *testing.T) {
	for _, c := range []struct {
		ranks                Ranks
		list, ranges, twelve string
	}{
		{nil, "", "", ""},
		{Ranks{3}, "3", "3", "3"},
		{Ranks{3, 4}, "3 4", "3 4", "3 4"},
		{Ranks{2, 3, 4, 5, 7, 8, 10}, "2 3 4 5 7 8 10", "2–5 7 8 10", "2–5 7 8 10"},
		{Ranks{1, 3, 5, 7, 9, 11, 13}, "1 3 5 7 9 11 13", "1 3 5 7 9 11 13", "1 3 5 7 9 …"},
		{Ranks{29, 32, 33, 34, 36, 37, 38}, "29 32 33 34 36 37 38", "29 32–34 36–38", "29 32–34 …"},
	} {
		if got := c.ranks.String(); got != c.list {
			t.Errorf("list %q, want %q", got, c.list)
		}
		if got := c.ranks.Ranges(); got != c.ranges {
			t.Errorf("ranges %q, want %q", got, c.ranges)
		}
		if got := c.ranks.Short(12); got != c.twelve {
			t.Errorf("in twelve %q, want %q", got, c.twelve)
		}
	}
}
