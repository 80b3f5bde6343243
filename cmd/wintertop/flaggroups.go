package main

import (
	"github.com/spf13/pflag"

	"wintertop/forecast"
)

// flagGroup says which flags a command takes.
type flagGroup uint

const (
	fileFlags   flagGroup = 1 << iota // the files read
	asOfFlag                          // --as-of
	winterFlags                       // which winter and window
	loggerFlag                        // --logger of station
	demandFlag                        // --demand of sow
	allFlag                           // --all of events
	sinceFlag                         // --since of pick and order
	detrendFlag                       // --detrend of what plays past winters
	verifyFlag                        // --verify of report
	crossFlags                        // --select, --floor and --untried of cross
	outFlags                          // where and how results go
	pngFlag                           // --png of commands that draw charts
	forFlag                           // --for of next
	designFlags                       // what a trial is to decide
	timeFlags   = asOfFlag | winterFlags
	trialFlags  = fileFlags | timeFlags
	everyGroup  = trialFlags | loggerFlag | demandFlag | allFlag | sinceFlag | detrendFlag | verifyFlag | crossFlags | outFlags | pngFlag | forFlag | designFlags
)

func (a *asked) flagSet(groups flagGroup) *pflag.FlagSet {
	fs := pflag.NewFlagSet("wintertop", pflag.ContinueOnError)
	fs.SortFlags = false
	fs.Usage = func() {}
	if groups&fileFlags != 0 {
		fs.StringVar(&a.in, "in", "", "the trial `folder` that holds the files under their usual names")
		for _, r := range roles {
			fs.Var(&fileFlag{a, r}, string(r), r.does())
		}
		fs.Var(&choice{"units", &a.units, []string{"metric", "us", "tenths"}}, "units", "unit of a station file that names none: `metric|us|tenths`")
		fs.Var(&choice{"date-order", &a.dateOrder, []string{"dmy", "mdy"}}, "date-order", "order of a station's dates such as 3/4/2012: `dmy|mdy`")
	}
	if groups&loggerFlag != 0 {
		fs.Var(&fileFlag{a, loggerRole}, string(loggerRole), loggerRole.does())
	}
	if groups&demandFlag != 0 {
		fs.Var(&fileFlag{a, demandRole}, string(demandRole), demandRole.does())
	}
	if groups&asOfFlag != 0 {
		fs.Var(&dateFlag{"as-of", &a.asOf, &a.hasAsOf}, "as-of", "the `date` up to which weather and notes are used (the record's last day)")
	}
	if groups&winterFlags != 0 {
		fs.Var(&winterFlag{a}, "winter", "the `winter`, such as 2012/13, in the south 2014 (the one that holds as-of)")
		fs.Var(&windowFlag{&a.window}, "window", "the late-winter `days` that count (02-01..03-15, in the south 08-01..09-15)")
	}
	if groups&sinceFlag != 0 {
		fs.Var(&dateFlag{"since", &a.since, &a.hasSince}, "since", "show beside it the same as of an earlier `date`")
	}
	if groups&detrendFlag != 0 {
		fs.BoolVar(&a.detrend, "detrend", false, "move past winters by the record's trend to the level of this one")
	}
	if groups&verifyFlag != 0 {
		fs.BoolVar(&a.verify, "verify", false, "add how good past forecasts would have been, as verify says")
	}
	if groups&crossFlags != 0 {
		fs.Var(&shareFlag{&a.crossing.share}, "select", "the `share` of the progeny lines that is kept (0.1)")
		fs.Var(&floorFlag{&a.crossing.floors}, "floor", "a column of the lines file and the least value of a parent, `column=least`; may be repeated")
		fs.BoolVar(&a.crossing.untried, "untried", false, "take lines without notes as parents too")
	}
	if groups&forFlag != 0 {
		a.decision = string(forecast.ForPick)
		fs.Var(&choice{"for", &a.decision, []string{string(forecast.ForPick), string(forecast.ForHardiness)}}, "for", "what the notes are to narrow: `pick|hardiness`, the pick in the window or hardiness against the check")
	}
	if groups&designFlags != 0 {
		fs.Var(&differFlag{&a.differ}, "differ", "what one line is better by, in hardiness or leaf mass: `1C or 20%` (1C)")
		fs.Var(&chanceFlag{&a.chance}, "chance", "wanted `chance` of choosing the better line (0.9)")
		fs.Var(&bestOfFlag{&a.bestOf}, "best-of", "`lines` from which the best is chosen (2)")
	}
	if groups&allFlag != 0 {
		fs.BoolVar(&a.all, "all", false, "all winters of the record")
	}
	if groups&outFlags != 0 {
		fs.StringVar(&a.out, "out", "", "the `folder` to write the files to; without it nothing is written")
		fs.Var(&choice{"format", &a.format, []string{"text", "csv", "json"}}, "format", "how the table is printed: `text|csv|json`")
		fs.BoolVar(&a.quiet, "quiet", false, "do not print what was noticed in the input files")
		fs.BoolVar(&a.overwrite, "overwrite", false, "replace files that exist")
	}
	if groups&pngFlag != 0 {
		fs.BoolVar(&a.png, "png", false, "write each chart as PNG too, 200 dots per inch")
	}
	fs.BoolVarP(&a.help, "help", "h", false, "this help")
	return fs
}
