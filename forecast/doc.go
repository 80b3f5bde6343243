// Package forecast turns a trial folder into odds.
//
// It reads the folder (Load), learns each line's traits from its field notes
// (Learn) and plays every past winter forward from the as-of day (Look), for
// the season of each planting, the pick of lines for the late-winter window and
// the order in which a crew lifts them.
//
// The walk, in the order of the files: trial, site, lines, plantings and notes
// read the folder; grid and prior lay out the traits; course, observation,
// likelihood, layer and posterior compare notes with the canopy; learn,
// population, shared, traits and relatives turn notes into traits; disagree and
// split hold notes against what was learned; outlook runs the canopy along past
// winters; stake, quantile, season, pick and contest add the grid up for each
// row; order, crew, rules and orderact lift what stands; holding, offspring,
// kinship and cross pair lines as parents; tables and its sisters give the
// results their columns.
//
// # Traits
//
// The canopy runs once per course of weather on a grid of top size × hardiness;
// top length enters in closed form, as a factor on height. Every line is a
// weighting of that grid: nothing is drawn at random, and the cost of the
// canopy does not grow with the lines.
//
// Notes are compared with the model on scales on which they scatter evenly: leaf
// mass, heights and counts of leaves on the logarithm, weed cover on the logit,
// lifted shares as counts; ground cover as ln leaf area, so as leaf mass. Plants
// scatter independently, the notes of a plot share one deviation over all dates.
// A line deviates from its traits in each winter and place; that is integrated
// out by smoothing the winter's likelihood.
//
// What bears on all lines alike is estimated from all of them at once: the mean
// of the lines and the covariance between them, and as effects the deviation of
// each trial (a winter at a place) in leaf mass, what the model gets wrong of
// its frost in °C, and with several places the shift of each. Checks connect
// trials thereby. A step of the estimate solves the mixed-model equations
// (Henderson), with the likelihoods taken as quadratic about the present
// estimate; the covariance follows by EM towards REML, the assumed one counting
// for a few lines. A line is then worked out at the estimate, and widened by how
// its mean follows what is not known of mean and effects: its own notes count
// once, and a line without notes is any line of the population.
//
// A line of which lines.csv says a trait starts from that instead of the
// population, in this trait. One whose pedigree names listed lines starts from
// their mean, a parent that is not listed taken as any line; in doubt are half
// of the variance between lines, which segregates anew, and half of what is not
// known of the parents.
//
// Hardiness holds for the canopy at this station: how much colder a place is
// than its station says moves the same number. With one place the mean of the
// lines carries that doubt. Forecasts for the place do not care which it is.
//
// # Outlook
//
// The weather of the winter in progress is known to the as-of day; after it
// each complete past winter is played in turn with equal weight (Day 1985), a
// short-range forecast between them where one is given. Observed days that are
// missing are taken from the same winter. A planting with notes of leaf mass in
// that winter goes by what they say of its own plot.
//
// # Notes to take and trials to sow
//
// survey gathers what notes not yet taken would show along each past winter,
// prospect and chosen their covariances, and chooser picks the notes that lower
// the expected loss of a decision most (nextnotes, notesheet). teaching, design
// and trialplan size a trial before it is sown, by rightchoice.
//
// # Crosses
//
// Cross pairs lines as parents. Traits are taken as additive: progeny lines
// stand about the parents' middle and spread by half of the variance between
// lines, less what the parents share by descent (Malécot), plus what segregates
// within lines; what is not known of the parents is common to them all. The
// share kept is chosen by the index of the traits that tells best who holds,
// of which a share breeds true (Falconer & Mackay 1996; Cochran 1951 for what is
// left of the spread). Whole past winters give each cell of the grid its chance to
// hold through the window, so a pair costs one more weighting of it.
//
// # Notes to take and trials to sow
//
// survey gathers what notes not yet taken would show along each past winter,
// prospect and chosen their covariances, and chooser picks the notes that lower
// the expected loss of a decision most (nextnotes, notesheet). teaching, design
// and trialplan size a trial before it is sown, by rightchoice.
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
//   - last safe date: holds_until
//   - p_in_time: share of the past winters in which the crew has lifted a planting
//     by its last safe date
//   - share_lost: share of its area that belts leave in the ground, that stands
//     until its roots have frozen, or that is never lifted
//
// # References
//
//   - Bechhofer 1954: Bechhofer R.E. 1954. A single-sample multiple decision
//     procedure for ranking means of normal populations with known variances.
//     Ann. Math. Stat. 25:16–39 (from memory).
//   - Cochran 1951: Cochran W.G. 1951. Improvement by means of selection. Proc. 2nd
//     Berkeley Symp. Math. Stat. Prob., 449–470 (from memory).
//   - Day 1985: Day G.N. 1985. Extended streamflow forecasting using NWSRFS.
//     J. Water Resour. Plan. Manage. 111:157–170 (from memory).
//   - Falconer & Mackay 1996: Falconer D.S., Mackay T.F.C. 1996. Introduction to
//     quantitative genetics, 4th ed. Longman (the intensities read to two places,
//     the rest from memory).
//   - Henderson: Henderson C.R. 1984. Applications of linear models in animal
//     breeding. University of Guelph (from memory).
//   - Malécot: Malécot G. 1948. Les mathématiques de l'hérédité. Masson (from
//     memory).
//   - Raiffa & Schlaifer 1961: Raiffa H. and Schlaifer R. 1961. Applied
//     statistical decision theory. Harvard University (from memory).
//   - Stein 1981: Stein C.M. 1981. Ann. Stat. 9:1135–1151 (from memory).
//   - Turner et al. 2018: Turner S.D. et al. 2018. G3 8:411, raw data of a
//     carrot diallel.
package forecast
