package forecast

import "math"

// count is the log likelihood of lifted plants out of those tried by the share
// that the model lets expect: the binomial, with a normal deviation of the
// logit integrated out for what plot and trial do on the day.
type count struct {
	low, step float64 // of the logit
	log       []float64
}

const (
	countReach = 9.0 // logit beyond which a share is 0 or 1
	countSteps = 181
	deviations = 41 // points over ±4 SD at which the deviation is taken
)

func countOf(lifted, tried, deviationSD float64) count {
	c := count{low: -countReach, step: 2 * countReach / (countSteps - 1), log: make([]float64, countSteps)}
	for i := range c.log {
		middle, sum, total := c.low+c.step*float64(i), 0.0, 0.0
		for k := range deviations {
			z := 8*float64(k)/(deviations-1) - 4
			x := middle + deviationSD*z
			// ln p and ln(1 - p) of the logit x.
			density := math.Exp(-z * z / 2)
			sum += density * math.Exp(-lifted*math.Log1p(math.Exp(-x))-(tried-lifted)*math.Log1p(math.Exp(x)))
			total += density
		}
		c.log[i] = math.Log(sum/total + tiny)
	}
	return c
}

// at gives the log likelihood of a share.
func (c count) at(share float64) float64 {
	x := countReach
	if share < 1 {
		x = min(max(math.Log(share/(1-share)), c.low), countReach)
	}
	place := (x - c.low) / c.step
	i := min(int(place), len(c.log)-2)
	part := place - float64(i)
	return (1-part)*c.log[i] + part*c.log[i+1]
}
