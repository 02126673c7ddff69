package purchase

import "example.com/closefit/units"

// Each type is read strictly from its exchange form, as units.DecodeObject has it.

func (c *Count[P]) UnmarshalJSON(data []byte) error {
	type count Count[P]
	return units.DecodeObject(data, (*count)(c))
}

func (p *Pack[P]) UnmarshalJSON(data []byte) error {
	type pack Pack[P]
	return units.DecodeObject(data, (*pack)(p))
}

func (n *Need[P]) UnmarshalJSON(data []byte) error {
	type need Need[P]
	return units.DecodeObject(data, (*need)(n))
}

func (w *Alternative[P]) UnmarshalJSON(data []byte) error {
	type alternative Alternative[P]
	return units.DecodeObject(data, (*alternative)(w))
}

func (p *Purchase[P]) UnmarshalJSON(data []byte) error {
	type purchase Purchase[P]
	return units.DecodeObject(data, (*purchase)(p))
}

func (b *Bought[P]) UnmarshalJSON(data []byte) error {
	type bought Bought[P]
	return units.DecodeObject(data, (*bought)(b))
}

func (s *Serving[P]) UnmarshalJSON(data []byte) error {
	type serving Serving[P]
	return units.DecodeObject(data, (*serving)(s))
}

func (p *Proof[P]) UnmarshalJSON(data []byte) error {
	type proof Proof[P]
	return units.DecodeObject(data, (*proof)(p))
}

func (c *Component[P]) UnmarshalJSON(data []byte) error {
	type component Component[P]
	return units.DecodeObject(data, (*component)(c))
}

func (k *Case) UnmarshalJSON(data []byte) error {
	type divided Case
	return units.DecodeObject(data, (*divided)(k))
}

// UnmarshalJSON leaves Progress alone: it is not part of the exchange form.
func (o *Request[P]) UnmarshalJSON(data []byte) error {
	type request Request[P]
	read := request{}
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	read.Progress = o.Progress
	*o = Request[P](read)
	return nil
}
