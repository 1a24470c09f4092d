// Package places is which folders and files the desk shows: those directly in one folder, and
// nothing outside it, whatever a name, link or address says.
package places
