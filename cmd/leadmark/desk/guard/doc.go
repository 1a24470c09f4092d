// Package guard says whom the desk answers: pages of its own on this machine and, where others may
// ask, those who have the key. What comes from elsewhere is refused before any other code sees it.
package guard
