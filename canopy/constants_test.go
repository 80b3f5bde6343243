package canopy

import (
	"reflect"
	"testing"
)

func TestConstants(t *testing.T) {
	p := Standard()
	fields := map[*float64]string{}
	v := reflect.ValueOf(&p).Elem()
	for i := range v.NumField() {
		if x, ok := v.Field(i).Addr().Interface().(*float64); ok {
			fields[x] = v.Type().Field(i).Name
		}
	}
	names, symbols := map[string]bool{}, map[string]bool{}
	for _, c := range p.Constants() {
		if fields[c.Value] == "" {
			t.Errorf("%s: no field, or twice", c.Name)
		}
		delete(fields, c.Value)
		if !(c.Low <= *c.Value && *c.Value <= c.High && c.Low < c.High) {
			t.Errorf("%s: %v outside %v to %v", c.Name, *c.Value, c.Low, c.High)
		}
		if c.Name == "" || c.Symbol == "" || c.Source == "" || names[c.Name] || symbols[c.Symbol] {
			t.Errorf("%s (%s): blank or twice, source %q", c.Name, c.Symbol, c.Source)
		}
		names[c.Name], symbols[c.Symbol] = true, true
	}
	for _, name := range fields {
		t.Errorf("%s is not in the table", name)
	}
}
