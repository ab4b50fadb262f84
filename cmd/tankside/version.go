package main

import (
	"fmt"
	"runtime/debug"
)

type version struct{}

// Run prints what the build knows of itself.
func (version) Run(t *term) error {
	number, revision, goVersion := "(devel)", "", ""
	if info, ok := debug.ReadBuildInfo(); ok {
		goVersion = " " + info.GoVersion
		if info.Main.Version != "" {
			number = info.Main.Version
		}
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				revision = " " + s.Value
			}
		}
	}
	_, err := fmt.Fprintf(t.Out, "tankside %s%s%s\n", number, revision, goVersion)
	return err
}
