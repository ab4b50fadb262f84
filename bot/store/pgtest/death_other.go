//go:build unix && !linux

package pgtest

import "os/exec"

func setDeathSignal(*exec.Cmd) {}
