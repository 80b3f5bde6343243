package table

// Nearest gives the known word with the fewest single-letter edits from word,
// and whether it is near enough to be offered as what was meant: at most a
// third of the letters, and at least one edit, may differ.
func Nearest(word string, known []string) (string, bool) {
	best, least := "", -1
	for _, k := range known {
		if d := edits([]rune(word), []rune(k)); least < 0 || d < least {
			best, least = k, d
		}
	}
	return best, least >= 0 && least <= max(1, len([]rune(word))/3)
}

// edits counts the insertions, deletions and replacements of single letters
// that turn a into b (Levenshtein's distance).
func edits(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range b {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, diagonal+1, row[j]+1)
		}
	}
	return row[len(b)]
}
