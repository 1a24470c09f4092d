// Package planning is the command that says where the subject will be and how to frame, focus and
// light it. Its Options, and the Request that they make of rig, lag and subject, are check's too.
package planning
