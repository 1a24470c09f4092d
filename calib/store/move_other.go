//go:build !linux

package store

// moveNew renames a file and takes the new name from nobody who was there before.
func moveNew(from, to string) error { return lookAndRename(from, to) }
