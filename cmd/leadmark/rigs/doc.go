// Package rigs is the command for rigs' profiles, with one file for each of its own: new, list,
// show, history, compare, restore.
package rigs
