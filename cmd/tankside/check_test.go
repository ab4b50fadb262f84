package main

import "testing"

func TestNoGaps(t *testing.T) {
	for _, gap := range gaps() {
		t.Error(gap)
	}
}
