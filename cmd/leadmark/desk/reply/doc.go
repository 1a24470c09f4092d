// Package reply is how requests are read and answered: values of a form or an address read
// strictly, a Problem in a person's words with its HTTP status where something is refused, a value
// as JSON.
package reply
