package forecast

// A plot of less than smallPart of a period's land is not sown by itself where
// the others can stand in for it at no more than dearer of the land.
const (
	smallPart = 0.05
	dearer    = 0.01
)

// plainer gives a plan without plots that are hardly worth a drill, the others
// enlarged alike so that the winters that it supplied stay supplied.
func (s *supply) plainer(plan areaPlan) areaPlan {
	if !plan.ok {
		return plan
	}
	met := s.met(plan)
	plan.total = 0
	for k := range plan.areaM2 {
		for j := s.smallest(plan, k); j >= 0; j = s.smallest(plan, k) {
			whole, part := total(plan.areaM2[k]), plan.areaM2[k][j]
			plan.areaM2[k][j] = 0
			least := 1.0 // share of what is wanted that the others give
			for w, is := range met {
				if is {
					least = min(least, s.share(plan, k, w))
				}
			}
			if larger := (whole - part) / least; !(larger <= min(whole*(1+dearer), s.most[k])) {
				plan.areaM2[k][j] = part
				break
			}
			for i := range plan.areaM2[k] {
				plan.areaM2[k][i] /= least
			}
		}
		plan.total += total(plan.areaM2[k])
	}
	return plan
}

// smallest gives the smallest plot of a period that is small beside the rest, -1
// where there is none.
func (s *supply) smallest(plan areaPlan, period int) int {
	at, whole := -1, total(plan.areaM2[period])
	for j, m2 := range plan.areaM2[period] {
		if m2 > 0 && m2 < smallPart*whole && (at < 0 || m2 < plan.areaM2[period][at]) {
			at = j
		}
	}
	return at
}

func total(areaM2 []float64) float64 {
	sum := 0.0
	for _, m2 := range areaM2 {
		sum += m2
	}
	return sum
}
