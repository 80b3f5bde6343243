package forecast

import (
	"strings"
	"testing"
)

// A forecast that is the better one on the whole says where it was not.
func TestSummaryNamesTheLeadsThatWereLost(t *testing.T) {
	score := func(method string, lead int, crps float64) Score {
		return Score{What: WhatEvents, Method: method, LeadDays: lead, N: 9, CRPS: crps}
	}
	v := Verification{Scores: []Score{
		score(ByForecast, 120, 5.1), score(ByOwnMean, 120, 5.0), score(ByLastWinter, 120, 9),
		score(ByForecast, 60, 3), score(ByOwnMean, 60, 5.0), score(ByLastWinter, 60, 9),
	}}
	said := v.Summary()[0]
	if !strings.Contains(said, "the forecast beat the mean of other winters (mean error score 4.05 against 5 events), but not 120 days ahead.") {
		t.Error(said)
	}
	v.Scores[0].CRPS = 4.9
	if said = v.Summary()[0]; strings.Contains(said, "but not") {
		t.Error(said)
	}
	v.Scores[0].CRPS, v.Scores[3].CRPS = 6, 6
	if said = v.Summary()[0]; !strings.Contains(said, "did not beat the mean of other winters") || strings.Contains(said, "but not") {
		t.Error(said)
	}
}
