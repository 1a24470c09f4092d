// Package picture decodes pictures for show, without a library in C: upright, and as small as they
// are to be seen.
package picture
