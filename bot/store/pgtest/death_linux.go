package pgtest

import (
	"os/exec"
	"syscall"
)

// setDeathSignal leaves no server behind when the test is killed.
func setDeathSignal(cmd *exec.Cmd) { cmd.SysProcAttr.Pdeathsig = syscall.SIGQUIT }
