package table

import "testing"

func TestUnits(t *testing.T) {
	for text, want := range map[string]string{
		"°C": "°C", "ºC": "°C", "℃": "°C", "C": "°C", "degC": "°C", "Degree C": "°C", "degrees Celsius": "°C", "°F": "°F", "F": "°F", "deg F": "°F",
		"Fahrenheit": "°F", "K": "K", "0.1 °C": "0.1 °C", "1/10 °C": "0.1 °C", "tenths of degrees C": "0.1 °C", "mm": "mm", "mm/day": "mm", "mm d-1": "mm",
		"0.1 mm": "0.1 mm", "cm": "cm", "in": "in", "inches": "in", "Inches": "in", "oz": "oz", "g": "g", "%": "%",
	} {
		if got, ok := Unit(text); !ok || got != want {
			t.Errorf("%q: got %q", text, got)
		}
	}
	for _, text := range []string{"", "furlong", "temp", "10cm"} {
		if got, ok := Unit(text); ok {
			t.Errorf("%q is %q", text, got)
		}
	}
}
