package page

import (
	"fmt"
	"strconv"
	"strings"
)

// CardsFiles are the pages of the cards of a long run.
const CardsFiles = "cards-*.html"

// MostCards is how many frames with their pictures are on one page; those of a longer run get pages
// of their own.
const MostCards = 200

// CardsFile names page k of the cards of a long run.
func CardsFile(k int) string { return strings.Replace(CardsFiles, "*", strconv.Itoa(k+1), 1) }

// CardPages is how many pages of their own the cards of a run of n frames need: none where they fit
// on the page itself, or would have no pictures to show.
func CardPages(n int, pictures bool) int {
	if n <= MostCards || !pictures {
		return 0
	}
	return (n + MostCards - 1) / MostCards
}

type frameLink struct{ Name, Href string }

// pageLink leads to page k of the cards of n frames.
func pageLink(k, n int) frameLink {
	return frameLink{fmt.Sprintf("frames %d to %d", k*MostCards+1, min((k+1)*MostCards, n)), CardsFile(k)}
}

func frameID(i int) string { return fmt.Sprintf("frame-%d", i+1) }
