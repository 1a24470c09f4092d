// Package page is what stands on the report's pages, and their templates: the page of a run, the
// pages of the cards of a long run, a rig's history, the contact sheet of a shoot.
//
// Its nouns: a Page is ready to be written and loads nothing; a card is one frame with what was
// found drawn on it; a view is all that a template lays out, in words. It computes nothing that is
// not in the result.
package page
