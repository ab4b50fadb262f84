package phrases

import (
	"strconv"
	"strings"

	"tankside/engine"
)

// cropDetails writes what the crop table says besides figures: how the crop takes
// winter, which inoculant it needs, and what to look out for.
func (p *page) cropDetails() {
	if !p.about(engine.TopicCrop) {
		return
	}
	for _, name := range p.o.Crops {
		c := engine.CropNamed(name)
		if c == nil {
			continue
		}
		p.winter(c.Winter)
		p.detail("inoculant", c.Inoculant)
		p.end()
		for _, key := range c.Cautions {
			p.detail("handling", key)
		}
		p.end()
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
