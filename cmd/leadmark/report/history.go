package report

import (
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/page"
)

// WriteHistory writes the control charts of a rig as one page that loads nothing, in one step. A
// file that is there and was not written by this program is left alone, and WriteHistory returns
// ErrNotOurs.
func WriteHistory(path, name string, h rig.History, o Options) error {
	return replacePage(path, page.History(name, h, o.making()))
}
