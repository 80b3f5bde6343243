package weather

import "math"

// soilColumn is soil in layers from the surface down, below a canopy; no heat
// passes below the last layer. All slices have one value per layer.
type soilColumn struct {
	midM      []float64 // depth of the middle
	holdWM2K  []float64 // heat capacity per step
	joinWM2K  []float64 // conductance to the layer above, to the surface in the first
	exchange  float64   // conductance from the surface to the canopy without snow, W m⁻² K⁻¹
	latentC   float64   // latent heat of a layer, as °C of its heat capacity
	snow      float64   // share of the exchange that the day's snow leaves
	heatC     []float64 // heat above that of water at 0 °C, as °C of the heat capacity
	tempC     []float64
	water     []soilWater
	share     []soilShare // elimination for the water and the exchange in force
	canopyC   float64     // of the last step
	snowInUse float64     // share of the exchange in force in the last step
	topWM2K   float64     // conductance in force from the canopy to the middle of the first layer
}

// soilWater says in which state a layer's water is.
type soilWater uint8

const (
	liquid soilWater = iota
	freezing
	ice
)

// soilShare holds the shares of a layer's new temperature that its own heat
// and the new temperatures above and below it have.
type soilShare struct{ own, above, below float64 }

// newSoilColumn makes a column of layers, m, at one temperature, °C, followed
// in steps, s.
func (p Params) newSoilColumn(thickM []float64, stepS, startC float64) *soilColumn {
	const meltingMJM3 = 334 // latent heat of water
	capacity := p.SoilHeatMJM3K * 1e6
	conductivity := p.SoilDiffusivityMM2S * 1e-6 * capacity
	n := len(thickM)
	c := &soilColumn{
		midM: make([]float64, n), holdWM2K: make([]float64, n), joinWM2K: make([]float64, n),
		heatC: make([]float64, n), tempC: make([]float64, n), water: make([]soilWater, n),
		share:    make([]soilShare, n),
		exchange: p.CoverExchangeWM2K, latentC: p.SoilIceShare * meltingMJM3 / p.SoilHeatMJM3K, snow: 1,
	}
	topM, aboveM := 0.0, 0.0
	for i, thick := range thickM {
		c.midM[i], c.holdWM2K[i] = topM+thick/2, capacity*thick/stepS
		c.joinWM2K[i] = conductivity / (c.midM[i] - aboveM)
		topM, aboveM = topM+thick, c.midM[i]
		if c.tempC[i], c.heatC[i] = startC, startC; startC < 0 {
			c.heatC[i], c.water[i] = startC-c.latentC, ice
		}
	}
	c.cover(1)
	return c
}

// step takes the column one step on, below a canopy at canopyC: conduction by
// backward Euler, water freezing at 0 °C. Snow holds heat back, but not the
// warmth that melt water carries down.
func (c *soilColumn) step(canopyC float64) {
	c.canopyC = canopyC
	c.cover(c.snow)
	c.solve()
	if c.snow < 1 && c.tempC[0] < canopyC {
		c.cover(1)
		c.solve()
	}
	for i, water := range c.water {
		if water == liquid {
			c.heatC[i] = c.tempC[i]
		} else {
			c.heatC[i] = c.heatAfter(i)
		}
	}
}

// cover puts a share of the exchange with the canopy in force.
func (c *soilColumn) cover(share float64) {
	if c.snowInUse != share {
		c.snowInUse, c.topWM2K = share, 1/(1/(c.exchange*share)+1/c.joinWM2K[0])
		c.eliminate()
	}
}

// solve finds tempC and water at the end of the step: the temperatures follow
// from the states as they were, and the states are mended until both agree,
// mostly at once.
func (c *soilColumn) solve() {
	for range 20 {
		if c.substitute() {
			return
		}
		c.eliminate()
	}
}

// eliminate prepares the step for the layers' states.
func (c *soilColumn) eliminate() {
	below := 0.0
	for i, hold := range c.holdWM2K {
		if c.water[i] == freezing {
			c.share[i], below = soilShare{}, 0
			continue
		}
		join, next := c.topWM2K, 0.0
		if i > 0 {
			join = c.joinWM2K[i]
		}
		if i+1 < len(c.share) {
			next = c.joinWM2K[i+1]
		}
		pivot := hold + join*(1-below) + next
		below = next / pivot
		c.share[i] = soilShare{hold / pivot, join / pivot, below}
	}
}

// substitute gives the temperatures for c.water and says whether these agree
// with the states, which it mends.
func (c *soilColumn) substitute() (agreed bool) {
	share, n := c.share, len(c.share)
	temp, heat, water, t := c.tempC[:n], c.heatC[:n], c.water[:n], c.canopyC
	for i, s := range share {
		own := heat[i]
		if water[i] == ice {
			own += c.latentC
		}
		t = s.own*own + s.above*t
		temp[i] = t
	}
	for i := n - 2; i >= 0; i-- {
		t = temp[i] + share[i].below*t
		temp[i] = t
	}
	agreed = true
	for i, t := range temp {
		if water[i] == liquid && t > 0 {
			continue
		}
		after, now := c.heatAfter(i), freezing
		switch {
		case after > 0:
			now = liquid
		case after < -c.latentC:
			now = ice
		}
		agreed = agreed && now == water[i]
		water[i] = now
	}
	return agreed
}

// heatAfter gives the heat of a layer at the end of the step.
func (c *soilColumn) heatAfter(i int) float64 {
	switch c.water[i] {
	case liquid:
		return c.tempC[i]
	case ice:
		return c.tempC[i] - c.latentC
	}
	gainWM2 := 0.0
	if i == 0 {
		gainWM2 = c.topWM2K * c.canopyC
	} else {
		gainWM2 = c.joinWM2K[i] * c.tempC[i-1]
	}
	if i+1 < len(c.tempC) {
		gainWM2 += c.joinWM2K[i+1] * c.tempC[i+1]
	}
	return c.heatC[i] + gainWM2/c.holdWM2K[i]
}

// surfaceC gives the temperature of the surface in the last step.
func (c *soilColumn) surfaceC() float64 {
	exchange := c.exchange * c.snowInUse
	return (exchange*c.canopyC + c.joinWM2K[0]*c.tempC[0]) / (exchange + c.joinWM2K[0])
}

// atC gives the temperature at a depth, m, in the last step. Above the soil,
// where the depth is negative, the canopy has a share in it, through snow less.
func (c *soilColumn) atC(depthM, canopyShare float64) float64 {
	aboveM, aboveC := 0.0, c.surfaceC()
	if depthM <= 0 {
		return aboveC + canopyShare*c.snowInUse*(c.canopyC-aboveC)
	}
	for i, m := range c.midM {
		if depthM < m {
			return aboveC + (c.tempC[i]-aboveC)*(depthM-aboveM)/(m-aboveM)
		}
		aboveM, aboveC = m, c.tempC[i]
	}
	return aboveC
}

// iceShare gives the share, 0-1, of the water in the first layers that is ice.
func (c *soilColumn) iceShare(layers int) float64 {
	frozen, all := 0.0, 0.0
	for i, hold := range c.holdWM2K[:layers] {
		all += hold
		frozen += hold * math.Max(0, math.Min(1, -c.heatC[i]/c.latentC))
	}
	return frozen / all
}
