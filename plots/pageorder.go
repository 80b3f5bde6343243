package plots

import (
	"fmt"

	"wintertop/forecast"
)

// orderSection is the order of one place as the page prints it.
type orderSection struct {
	Picture twinChart
	Says    [][2]string // name and sentence, in the order
	More    int         // plantings beyond these
}

// saidOnPage is how many plantings the page puts into words.
const saidOnPage = 12

func orderSectionOf(o *forecast.Order, number int) (orderSection, error) {
	wide, err := wideOrder(o)
	if err != nil {
		return orderSection{}, err
	}
	wide.bare = true
	var s orderSection
	if s.Picture, err = twinOf(o.Place, orderFoot(o), wide.chart(), phoneOrder(o), fmt.Sprintf("order%d", number)); err != nil {
		return s, err
	}
	for _, i := range o.Said(saidOnPage) {
		s.Says = append(s.Says, [2]string{wide.names[i], plain(o.Rows[i].Say)})
	}
	s.More = len(o.Rows) - len(s.Says)
	return s, nil
}
