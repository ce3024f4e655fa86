//go:build !linux

package rdf

import "errors"

// exchange would give two folders each other's name in one step, which this system does not offer.
func exchange(string, string) error { return errors.ErrUnsupported }
