// Package forecast turns a trial folder into odds.
//
// It reads the folder (Load), learns each line's traits from its field notes
// (Learn) and plays every past winter forward from the as-of day (Look), for
// the season of each planting and the pick of lines for the late-winter window.
//
// The walk, in the order of the files: trial, site, lines, plantings and notes
// read the folder; grid and prior lay out the traits; course and likelihood
// compare notes with the canopy; learn turns notes into traits; outlook runs
// the canopy along past winters; stake, quantile, season, pick and contest add
// the grid up for each row; tables gives the results their columns.
//
// # Traits
//
// The canopy runs once per course of weather on a grid of top size × hardiness;
// top length enters in closed form, as a factor on height. Every line is a
// weighting of that grid: nothing is drawn at random, and the cost of the
// canopy does not grow with the lines.
//
// A winter's notes are compared with the model on the logarithm: plants scatter
// independently, the plots of a planting share one deviation over all dates,
// all plots of a winter and place share the trial's. A line deviates from its
// traits in each winter; that deviation is integrated out by smoothing the
// winter's likelihood. Hardiness holds for the canopy at this station: how much
// colder the place is than the station says moves the same number, and its
// doubt is in the prior.
//
// # Outlook
//
// The weather of the winter in progress is known to the as-of day; after it
// each complete past winter is played in turn with equal weight (Day 1985).
// Observed days that are missing are taken from the same winter.
//
// # Words
//
//   - p_lift: chance that the lift share is at least the wanted share
//   - p_shaded: chance that the light at the ground is at most the shade limit
//   - p_all: chance of both in the same weather and traits
//   - holds_from, holds_until: first unbroken run of days with p_all at or
//     above the assurance
//   - rank: by the mean of p_all over the window from as-of on, then by the mean
//     lift share
//   - verdict: hold, p_all at or above the assurance on every day of the window
//     from as-of on; lift early, on at least one day; too weak, never; not
//     known yet, a line without notes
//
// # References
//
//   - Day 1985: Day G.N. 1985. Extended streamflow forecasting using NWSRFS.
//     J. Water Resour. Plan. Manage. 111:157–170 (from memory).
//   - Turner et al. 2018: Turner S.D. et al. 2018. G3 8:411, raw data of a
//     carrot diallel.
package forecast
