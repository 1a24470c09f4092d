package page

import "leadmark/calib"

// cardsView is one page of the cards of a long run.
type cardsView struct {
	pageView
	This  frameLink
	Pages []frameLink
}

// Cards is page k of the cards of a long run.
func Cards(r calib.Result, pictures []Picture, k int, m Making) Page {
	v := cardsView{pageView: commonView(r, m), This: pageLink(k, len(r.Frames))}
	v.Pages = v.CardPages
	from := k * MostCards
	to := min(from+MostCards, len(r.Frames))
	v.Cards = cardViews(r, pictures, from, to)
	v.PictureNote, v.HasPictures = pictureNote(pictures[from:to])
	return Page{"cards.html", v}
}
