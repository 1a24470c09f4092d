// Package desk is leadmark's local page: a run watched while it is shot, a reading put right, the
// rig's history, the plan and the shoot, in a browser on the same machine. It computes nothing: it
// asks calib, rig, plan and shoot as the command line does and shows what report says of it, so
// that page and terminal agree.
//
// Nouns: a Server shows the folders it was given and no others (places). A run that is followed
// (live) has one state with a revision number, which every page shows that shows the run, told of
// new ones as server-sent events (stream.go). What a page may not do is refused by guard, before
// any other code sees the request; reply is how requests are read and answered, planform what the
// page of plans asks. Here is a file for each page and for each change that it makes; routes.go
// names them.
//
// It touches no pixels: pictures are looked at through functions it is given, and shown by the
// browser. The pages are HTML, one style sheet and plain ES modules, all embedded; nothing is
// fetched from elsewhere.
package desk
