package forecast

import "testing"

// Shares by descent of lines that breed true, by hand (Malécot): parent and
// offspring ½, two lines of one cross ½, half sibs ¼.
func TestAlikeByDescent(t *testing.T) {
	lines := []Line{
		{Name: "A", Pedigree: "local standard"}, {Name: "B"},
		{Name: "AB1", Pedigree: "A x B, third selection"}, {Name: "AB2", Pedigree: "B × A"},
		{Name: "AW", Pedigree: "A x W-6"}, {Name: "WV", Pedigree: "W-6 x W-9, second overwintered selection"},
		{Name: "DEEP", Pedigree: "AB1 x AB2"}, {Name: "OUT", Pedigree: "selection from AB1"},
		{Name: "RING1", Pedigree: "RING2 x B"}, {Name: "RING2", Pedigree: "RING1 x B"}, {Name: "OWN", Pedigree: "open pollinated"},
	}
	k := kinshipOf(lines)
	for _, c := range []struct {
		a, b  string
		want  float64
		words string
	}{
		{"A", "B", 0, ""},
		{"A", "AB1", 0.5, "A is a parent of AB1"},
		{"AB1", "AB2", 0.5, "parents in common: A, B"},
		{"AB1", "AW", 0.25, "one parent in common: A"},
		{"AW", "WV", 0.25, "one parent in common: W-6"},
		{"AB1", "WV", 0, ""},
		{"DEEP", "AB1", 0.75, "AB1 is a parent of DEEP"},
		{"DEEP", "A", 0.5, "a forebear in common"},
		{"DEEP", "AW", 0.25, "a forebear in common"},
		{"OUT", "AB2", 0.25, "a forebear in common"},
		{"RING1", "RING2", 0, ""},
		{"RING1", "AB1", 0, ""},
		{"OWN", "A", 0, ""},
		{"A", "A", 1, ""},
	} {
		for _, turn := range [][2]string{{c.a, c.b}, {c.b, c.a}} {
			if got := k.alike(turn[0], turn[1]); got != c.want {
				t.Errorf("%s and %s are alike in %g, want %g", turn[0], turn[1], got, c.want)
			}
			if got := k.related(turn[0], turn[1]); c.a != c.b && got != c.words {
				t.Errorf("%s and %s: %q, want %q", turn[0], turn[1], got, c.words)
			}
		}
	}
}
