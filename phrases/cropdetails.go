package phrases

import "tankside/engine"

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
		p.detail("winter", c.Winter)
		p.detail("inoculant", c.Inoculant)
		p.end()
		for _, key := range c.Cautions {
			p.detail("handling", key)
		}
		p.end()
	}
}

func (p *page) detail(section, key string) {
	if t := p.text(section, key); t != nil {
		p.item()
		p.say(t, &params{})
	}
}
