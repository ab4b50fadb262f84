//go:build !linux

package pgtest

import "os/exec"

func setDeathSignal(*exec.Cmd) {}
