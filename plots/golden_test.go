package plots

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

func TestGoldenPictures(t *testing.T) {
	leaf, err := LeafMass(season(3, november))
	if err != nil {
		t.Fatal(err)
	}
	grid, err := LeafMass(season(5, november))
	if err != nil {
		t.Fatal(err)
	}
	calendar, err := Calendar(picks(6, november))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]Chart{"leaf-mass": leaf, "leaf-mass-panels": grid, "calendar": calendar} {
		width, height := c.size()
		img := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(60))
		c.paint(draw.New(img))
		var got bytes.Buffer
		if _, err := (vgimg.PngCanvas{Canvas: img}).WriteTo(&got); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("testdata", name+".png")
		if *update {
			if err := os.WriteFile(file, got.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		const delta = 0.1 // of the greatest colour difference: edges shift between processors
		same, err := cmpimg.EqualApprox("png", got.Bytes(), want, delta)
		if err != nil || !same {
			t.Errorf("%s differs (%v); look at it, then go test ./plots -update", file, err)
		}
	}
}
