// Package summary says in words what a run, a frame or a shoot came to, and what to do next, so
// that the terminal, the pages and the desk say the same.
//
// Its nouns: the Head is the answer in one sentence, the Answer its lines, the next step the one
// thing to do now. A quantity that the run could not tell is said to be missing, with the reason
// and the remedy; it is never shown as zero.
package summary
