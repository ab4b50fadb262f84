//go:build race

package voice

// detector is what the race detector takes in every child of ours, in megabytes.
const detector = 4 << 10
