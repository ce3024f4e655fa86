package inscription

import _ "embed"

//go:embed guide.txt
var guide string

// Guide is "How to write down a stone", one page for volunteers. The letters in brackets in its text are keys of the sources table: Leiden
// conventions; S31 and S32 to S32d, National Park Service and a preservation guide; S33c, displaced flag holders; S8, replaced stones; S2, the
// 1873 specification; common practice where a line says so.
func Guide() string { return guide }
