"""What a page shows, measured from the page alone; page mm.

``panes`` parts a page of several windows by the order of painting; ``tiles`` puts the pages
together by their codes and register marks.
"""
