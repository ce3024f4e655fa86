package job

import (
	"io/fs"
	"syscall"
	"time"
)

// statusTime is when the file's inode last changed, in nanoseconds: a time of change that was set back by hand shows there.
func statusTime(info fs.FileInfo) int64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return s.Ctim.Nano()
	}
	return 0
}

// processor is the processor time that the program has used, and peak the most memory that it has taken from the system, in bytes.
func processor() (used time.Duration, peak int64) {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0, 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()), u.Maxrss << 10
}
