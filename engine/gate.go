package engine

// Run is one recorded gate calibration: at this mark, this much left the back.
type Run struct {
	Opening float64 `json:"opening"` // the gate's mark
	Flow    float64 `json:"flow"`    // gallons a minute
	Outlet  string  `json:"outlet,omitempty"`
}

// Limit is a rate cap that a chat has set for itself.
type Limit struct {
	Slot  Slot    `json:"slot"`
	Value float64 `json:"value"` // base units
}
