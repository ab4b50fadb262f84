package phrases

import (
	"slices"
	"strconv"
	"strings"

	"tankside/engine"
)

// cropDetails writes what the crop table says besides figures: how the crop takes
// winter, which inoculant it needs, and what to look out for.
func (p *page) cropDetails(name string) {
	c := engine.CropNamed(name)
	if c == nil {
		return
	}
	p.winter(c.Winter)
	p.detail("inoculant", c.Inoculant)
	p.end()
	for _, key := range c.Cautions {
		p.detail("handling", key)
	}
	p.end()
}

// cropByCrop keeps what is said of one crop apart from the others: under each name its
// results, those asked for first.
func (p *page) cropByCrop(done []bool) {
	for _, name := range p.o.Crops {
		p.item()
		p.crop(name)
		p.colon()
		for _, asked := range [2]bool{true, false} {
			for i := range p.o.Results {
				if v := &p.o.Results[i]; v.Of == name && !done[i] && slices.Contains(p.o.Focus, v.Slot) == asked {
					done[i] = true
					p.oneResult(v)
				}
			}
		}
		p.end()
		if len(p.o.Focus) == 0 {
			p.cropDetails(name)
		}
	}
}

// winter writes how a crop takes it; "dies_17" names the temperature, °F.
func (p *page) winter(key string) {
	t := p.text("winter", key)
	if t == nil {
		return
	}
	x := params{}
	if _, at, ok := strings.Cut(key, "_"); ok {
		if v, err := strconv.ParseFloat(at, 64); err == nil {
			x.a = p.base(engine.SoilTemperature, nil, v)
		}
	}
	p.item()
	p.say(t, &x)
}

func (p *page) detail(section, key string) {
	if t := p.text(section, key); t != nil {
		p.item()
		p.say(t, &params{})
	}
}
