package job

import (
	"io/fs"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// shares are the kinds of file systems that may lie on another computer, by their numbers (statfs(2), linux/magic.h).
var shares = map[uint32]string{
	unix.NFS_SUPER_MAGIC: "a network share (NFS)", unix.SMB_SUPER_MAGIC: "a network share (SMB)", unix.CIFS_SUPER_MAGIC: "a network share (SMB)", unix.SMB2_SUPER_MAGIC: "a network share (SMB)",
	unix.AFS_SUPER_MAGIC: "a network share (AFS)", unix.AFS_FS_MAGIC: "a network share (AFS)", unix.CODA_SUPER_MAGIC: "a network share (Coda)", unix.NCP_SUPER_MAGIC: "a network share (NCP)",
	unix.CEPH_SUPER_MAGIC: "a network share (Ceph)", unix.V9FS_MAGIC: "a share of another machine (9P)", unix.FUSE_SUPER_MAGIC: "a file system that a program keeps (FUSE), and may be a network share",
}

// share names the kind of the file system of a folder where it may lie on another computer; else "".
func share(dir string) string {
	var s syscall.Statfs_t
	if err := syscall.Statfs(dir, &s); err != nil {
		return ""
	}
	return shares[uint32(s.Type)]
}

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
