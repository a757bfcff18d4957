"""The languages of what is printed: English words in the source, the others in a catalogue each (``po/``).

Whatever is printed is written in English where it is made, as a template with named fields, and told in the
language of the document at the last step.  What is made early, such as a finding, is kept as
:class:`~tiler.languages.words.Words`: the English text for terminal and JSON, with template and fields for
paper.  Writer and witness take the same templates, so a page is proved as strictly in every language.

Catalogues are gettext's (GNU gettext manual, "The Format of PO Files").  The words of the trade that all of
them use stand in ``glossary.md`` with their sources.
"""
