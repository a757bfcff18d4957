"""A pattern PDF of somebody else: what it holds, what joining keeps and loses, and our pages inside it.

``survey`` says what the base holds, ``forecast`` what of it is kept, lost or refused, ``join``
puts our pages in. The base is taken over object by object (``copying``), its streams
undecoded, and its catalog stays; only page tree, labels, outline, layers, attachments and
viewer preferences are added to. (pypdf's own clone follows links from page to page by
recursion and ends after a few hundred of them.) ``tiler.json`` then names its ``host``: how
many pages stand before and after ours. Each new thing that a base may hold belongs into
``tests/catalog/bases.py``, and is read back by a library other than pypdf.
"""
