//go:build !race

package voice

const detector = 0
