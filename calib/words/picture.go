package words

// picture is what a picture file, a ruler or an animal in it may be refused or doubted for.
func picture() map[string]say {
	return map[string]say{}
}
