package rdf

import "golang.org/x/sys/unix"

// exchange gives two folders each other's name in one step, or an error where the kernel or the file system cannot (renameat2(2), RENAME_EXCHANGE).
func exchange(a, b string) error {
	return unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
}
