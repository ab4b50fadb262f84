package phrases

import (
	"sort"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// Gaps lists what the catalogues lack or have too much: keys that the engine's
// lists call for, and keys that English has and another language has not, or the
// other way round. It is empty when all is well.
func Gaps() []string {
	var out []string
	english := catalogue["en"].own
	for _, code := range Languages() {
		own := catalogue[code].own
		wanted := required()
		for key := range english {
			wanted[key] = true
		}
		for key := range wanted {
			if !own[key] && !strings.HasSuffix(key, ".spoken") {
				out = append(out, code+": missing "+key)
			}
		}
		for key := range own {
			if !wanted[key] && !strings.HasSuffix(key, ".spoken") { // which texts the ear needs apart differs
				out = append(out, code+": extra "+key)
			}
		}
	}
	sort.Strings(out)
	return out
}

// required are the keys that other packages' lists call for.
func required() map[string]bool {
	keys := make(map[string]bool)
	add := func(section string, names []string) {
		for _, name := range names {
			keys[section+"."+name] = true
		}
	}
	for _, s := range engine.Slots() {
		keys["slot."+s.String()] = true
	}
	for _, u := range unit.All() {
		if u.Symbol != "" {
			keys["unit."+u.Symbol] = true
		}
	}
	add("problem", engine.Problems)
	add("act", engine.Acts)
	add("info", engine.InfoKeys)
	add("note", engine.NoteIDs)
	for _, c := range engine.Crops() {
		keys["crop."+c.Name], keys["winter."+c.Winter] = true, true
		add("handling", c.Cautions)
		for _, w := range c.Windows {
			add("place", strings.Split(w.Place, "; "))
		}
		if c.Inoculant != "" {
			keys["inoculant."+c.Inoculant] = true
		}
	}
	return keys
}
