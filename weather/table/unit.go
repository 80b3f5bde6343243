package table

// unitWords leads from the folded words for a unit to its symbol.
var unitWords = wordsOfUnits()

// unitSymbols are the symbols with the words that people write for them.
var unitSymbols = []struct {
	symbol string
	words  []string
}{
	{"°C", []string{"c", "degc", "degreec", "degreesc", "celsius", "degcelsius", "degreecelsius", "degreescelsius", "degreescentigrade"}},
	{"°F", []string{"f", "degf", "degreef", "degreesf", "fahrenheit", "degfahrenheit", "degreefahrenheit", "degreesfahrenheit"}},
	{"K", []string{"k", "kelvin", "degk"}},
	{"0.1 °C", []string{"01c", "01degc", "01celsius", "01degreec", "01degreescelsius", "110c", "110degc", "tenthsc", "tenthsdegc", "tenthsofc", "tenthsofdegc",
		"tenthsofdegreec", "tenthsofdegreesc", "tenthsofadegreec", "tenthsdegreesc", "tenthsofdegreecelsius", "tenthsofdegreescelsius", "tenthsofadegreecelsius"}},
	{"mm", []string{"mm", "mmday", "mmd", "mmd1", "mmday1", "millimetre", "millimetres", "millimeter", "millimeters", "lm2", "lperm2"}},
	{"0.1 mm", []string{"01mm", "110mm", "tenthsmm", "tenthsofmm", "tenthsofamm", "tenthsofmillimetres", "tenthsofmillimeters"}},
	{"cm", []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}},
	{"m", []string{"m", "metre", "metres", "meter", "meters"}},
	{"in", []string{"in", "inch", "inches", "inday", "ind"}},
	{"g", []string{"g", "gram", "grams"}},
	{"kg", []string{"kg"}},
	{"oz", []string{"oz", "ounce", "ounces"}},
	{"lb", []string{"lb", "lbs", "pound", "pounds"}},
	{"%", []string{"%", "percent", "pct"}},
}

func wordsOfUnits() map[string]string {
	unitWords := map[string]string{}
	for _, u := range unitSymbols {
		for _, word := range u.words {
			unitWords[word] = u.symbol
		}
	}
	return unitWords
}

// Unit gives the symbol of a unit as people write it: "degC", "Celsius" and
// "C" are all "°C". The symbols are °C, °F, K, 0.1 °C, mm, 0.1 mm, cm, m, in,
// g, kg, oz, lb and %. ok is false for anything else.
func Unit(text string) (symbol string, ok bool) {
	symbol, ok = unitWords[Fold(text)]
	return symbol, ok
}
