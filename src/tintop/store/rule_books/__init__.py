"""Rule books and their facts: TOML to values, with every problem named by file, line and field."""

from tintop.store.rule_books.load import load_books as load_books
from tintop.store.rule_books.load import load_stack as load_stack
from tintop.store.rule_books.load import read_rule_book as read_rule_book
from tintop.store.rule_books.load import read_rule_books as read_rule_books
from tintop.store.rule_books.shipped import shipped_book as shipped_book
from tintop.store.rule_books.shipped import shipped_facts as shipped_facts
from tintop.store.rule_books.shipped import shipped_ids as shipped_ids
