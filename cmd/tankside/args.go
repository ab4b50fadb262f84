package main

import "strings"

// dashesLast lets what is asked start with a minus: "-5 gallons" is not a flag. Where
// there is such an argument, it and all others that are not flags go behind "--".
func dashesLast(args []string) []string {
	if args[0] != "ask" && args[0] != "explain" {
		return args
	}
	flags, said := []string{args[0]}, []string{"--"}
	dashed := false
	for i, a := range args[1:] {
		if a == "--" {
			said = append(said, args[i+2:]...)
			dashed = true
			break
		}
		if len(a) > 1 && a[0] == '-' && !startsWithMinus(a) {
			flags = append(flags, a)
		} else {
			said = append(said, a)
			dashed = dashed || startsWithMinus(a)
		}
	}
	if !dashed {
		return args
	}
	return append(flags, said...)
}

// startsWithMinus tells a sentence or a number from a flag.
func startsWithMinus(a string) bool {
	return len(a) > 1 && a[0] == '-' && (strings.ContainsAny(a, " \t") || strings.IndexByte("0123456789.", a[1]) >= 0)
}
