package phrases

// cited writes a source: author, title, publisher, year, page, as far as known.
func (p *page) cited(key string) { p.own(key) }
