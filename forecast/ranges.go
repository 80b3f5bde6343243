package forecast

import "slices"

// atEnd gives the params with some constants at the low or at the high end of
// their ranges.
func (p Params) atEnd(high bool, names ...string) Params {
	for _, c := range p.Constants() {
		if !slices.Contains(names, c.Name) {
			continue
		}
		*c.Value = c.Low
		if high {
			*c.Value = c.High
		}
	}
	return p
}
