//go:build !linux

package job

import (
	"io/fs"
	"time"
)

func statusTime(fs.FileInfo) int64 { return 0 }

func processor() (used time.Duration, peak int64) { return 0, 0 }
