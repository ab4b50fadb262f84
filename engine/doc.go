// Package engine is the arithmetic of the job: what a load covers, what a field
// takes, what the pump must give, what a tag, a lab sheet, a gate, a scale and a row
// of jars come to.
//
// It has two layers. The formulas (load.go, flow.go, mixing.go, seed.go …) are pure
// functions over the quantities of package unit; each names its source and its
// worked example. Above them Answer takes topics and facts and says what follows,
// what is missing, what contradicts, and what was assumed: kinds.go lists the
// questions as data, derive.go the ways to fill a quantity from others,
// answer_*.go one answer a topic, plausible.go the usual bands. Crops, manures,
// nitrogen schemes, limits and sources are the embedded tables.
//
// Promises: nothing is rounded; no default is used that is not listed in Assumed;
// absent is never zero; what comes out is finite, or a Problem; every result can
// name its formula and source.
//
// Deliberately not here: text for people, memory, time of day, I/O.
package engine
