//go:build !windows

package data

import "syscall"

// A quota that is used up is a full disk to the person it happens to.
var (
	fullErrnos     = []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT}
	readOnlyErrnos = []syscall.Errno{syscall.EROFS}
)
