package forecast

import "testing"

// A note is of the fewest plants that are worth nearly as much as the most.
func (c *chooser) needsFewPlants(t *testing.T) {
	fewer := 0
	for i := range c.prospects {
		note, _ := c.best(i)
		note = c.enough(i, note)
		worth := map[int]float64{}
		for _, plants := range plantsTried {
			worth[plants] = c.gains(i, []noteAt{{note.plot, note.trait, note.date, plants}})[0]
		}
		for plants, gain := range worth {
			if enough := gain >= nearly*worth[plantsTried[len(plantsTried)-1]]; enough && plants < note.plants || !enough && plants == note.plants {
				t.Errorf("row %d: %d plants, worth by plants %v", i, note.plants, worth)
			}
		}
		if note.plants < plantsTried[len(plantsTried)-1] {
			fewer++
		}
	}
	if fewer == 0 {
		t.Error("all notes are of the most plants: the check tells nothing")
	}
}
