//go:build race

package voice

// detector is what the race detector takes in a child that is this program, in megabytes.
const detector = 4 << 10
