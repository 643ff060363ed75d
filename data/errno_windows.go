package data

import "syscall"

// Windows has its own numbers beside the POSIX names: ERROR_HANDLE_DISK_FULL,
// ERROR_DISK_FULL and ERROR_WRITE_PROTECT.
var (
	fullErrnos     = []syscall.Errno{syscall.ENOSPC, 39, 112}
	readOnlyErrnos = []syscall.Errno{syscall.EROFS, 19}
)
