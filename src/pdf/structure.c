#include "pdf/structure.h"

#include <assert.h>

struct kid {
	enum { KID_ELEMENT, KID_PIECE, KID_LINK } kind;
	int number; /* of the element, of the piece on its page, of the link */
	int page;
};

struct element {
	struct element_words words;
	element_ref parent;
	struct kid *kids;
	size_t n_kids;
	bool numbered; /* a list whose items have numbers */
};

/* The elements that a page's pieces belong to, in the order of their numbers. */
struct page_pieces {
	element_ref *owners;
	size_t n;
};

struct structure {
	struct arena *arena;
	struct element *elements;
	size_t n;
	struct page_pieces *pages;
	size_t n_pages;
	element_ref *link_owners;
	size_t n_links;
};

/* ---- the tree in the making ---- */

static void add_kid(struct structure *structure, element_ref element, struct kid kid)
{
	struct element *parent = &structure->elements[element];
	parent->kids = arena_more(structure->arena, parent->kids, parent->n_kids, sizeof kid);
	parent->kids[parent->n_kids++] = kid;
}

static element_ref append(struct structure *structure, struct element element)
{
	structure->elements = arena_more(structure->arena, structure->elements, structure->n, sizeof element);
	structure->elements[structure->n] = element;
	return (element_ref)structure->n++;
}

struct structure *structure_new(struct arena *arena)
{
	struct structure *structure = arena_alloc(arena, sizeof *structure);
	structure->arena = arena;
	append(structure, (struct element){.words = {.type = "Document"}, .parent = -1});
	return structure;
}

element_ref structure_add(struct structure *structure, element_ref parent, struct element_words words)
{
	words.alt = words.alt == NULL ? NULL : arena_strdup(structure->arena, words.alt);
	words.language = words.language == NULL ? NULL : arena_strdup(structure->arena, words.language);
	element_ref element = append(structure, (struct element){.words = words, .parent = parent});
	add_kid(structure, parent, (struct kid){KID_ELEMENT, element, 0});
	return element;
}

void structure_number(struct structure *structure, element_ref item)
{
	structure->elements[structure->elements[item].parent].numbered = true;
}

static struct page_pieces *pieces_of(struct structure *structure, int page)
{
	while (structure->n_pages <= (size_t)page) {
		structure->pages =
			arena_more(structure->arena, structure->pages, structure->n_pages, sizeof *structure->pages);
		structure->pages[structure->n_pages++] = (struct page_pieces){0};
	}
	return &structure->pages[page];
}

int structure_add_piece(struct structure *structure, element_ref element, int page)
{
	struct page_pieces *pieces = pieces_of(structure, page);
	int number = (int)pieces->n;
	pieces->owners = arena_more(structure->arena, pieces->owners, pieces->n, sizeof *pieces->owners);
	pieces->owners[pieces->n++] = element;
	add_kid(structure, element, (struct kid){KID_PIECE, number, page});
	return number;
}

void structure_add_link(struct structure *structure, element_ref element, int page, int link)
{
	assert((size_t)link == structure->n_links);
	structure->link_owners = arena_more(structure->arena, structure->link_owners, structure->n_links,
	                                    sizeof *structure->link_owners);
	structure->link_owners[structure->n_links++] = element;
	add_kid(structure, element, (struct kid){KID_LINK, link, page});
}

/* ---- writing it ---- */

struct writing {
	const struct structure *structure;
	qpdf_data file;
	const qpdf_oh *pages;
	const qpdf_oh *links;
	qpdf_oh *elements; /* each an indirect dictionary */
};

static void add_kid_object(const struct writing *writing, const struct kid *kid, int page_of_element, qpdf_oh kids)
{
	qpdf_data file = writing->file;
	qpdf_oh object;
	switch (kid->kind) {
	case KID_ELEMENT:
		qpdf_oh_append_item(file, kids, writing->elements[kid->number]);
		return;
	case KID_PIECE:
		if (kid->page == page_of_element) {
			object_append(file, kids, qpdf_oh_new_integer(file, kid->number));
			return;
		}
		object = object_parsed(file, "<< /Type /MCR >>");
		object_set_integer(file, object, "/MCID", kid->number);
		object_set(file, object, "/Pg", writing->pages[kid->page]);
		object_append(file, kids, object);
		return;
	case KID_LINK:
		break;
	}
	object = object_parsed(file, "<< /Type /OBJR >>");
	object_set(file, object, "/Obj", writing->links[kid->number]);
	object_set(file, object, "/Pg", writing->pages[kid->page]);
	object_append(file, kids, object);
}

/* The page of its first piece; -1: it holds none. Pieces there need no more than their number. */
static int page_of(const struct element *element)
{
	for (size_t i = 0; i < element->n_kids; i++)
		if (element->kids[i].kind != KID_ELEMENT)
			return element->kids[i].page;
	return -1;
}

static void set_cell(qpdf_data file, qpdf_oh dictionary, const struct element_words *words)
{
	if (words->scope == NULL && words->columns < 2)
		return;
	qpdf_oh attributes = object_parsed(file, "<< /O /Table >>");
	if (words->scope) {
		char scope[32];
		g_snprintf(scope, sizeof scope, "/%s", words->scope);
		object_set_name(file, attributes, "/Scope", scope);
	}
	if (words->columns > 1)
		object_set_integer(file, attributes, "/ColSpan", words->columns);
	object_give(file, dictionary, "/A", attributes);
}

static void set_words(const struct writing *writing, qpdf_oh dictionary, const struct element_words *words)
{
	qpdf_data file = writing->file;
	char type[32];
	g_snprintf(type, sizeof type, "/%s", words->type);
	object_set_name(file, dictionary, "/S", type);
	if (words->alt)
		object_give(file, dictionary, "/Alt", object_text(file, words->alt));
	if (words->language)
		object_give(file, dictionary, "/Lang", object_text(file, words->language));
	set_cell(file, dictionary, words);
}

static void write_element(const struct writing *writing, size_t number, qpdf_oh root)
{
	const struct element *element = &writing->structure->elements[number];
	qpdf_data file = writing->file;
	qpdf_oh dictionary = writing->elements[number];
	int page = page_of(element);
	qpdf_oh kids = qpdf_oh_new_array(file);
	for (size_t i = 0; i < element->n_kids; i++)
		add_kid_object(writing, &element->kids[i], page, kids);
	set_words(writing, dictionary, &element->words);
	if (element->numbered)
		object_set(file, dictionary, "/A", object_parsed(file, "<< /O /List /ListNumbering /Decimal >>"));
	object_set(file, dictionary, "/P", element->parent < 0 ? root : writing->elements[element->parent]);
	if (page >= 0)
		object_set(file, dictionary, "/Pg", writing->pages[page]);
	object_give(file, dictionary, "/K", kids);
}

/* From a page's or an annotation's key to the elements that it belongs to. Links follow the pages. */
static qpdf_oh parent_tree(const struct writing *writing, size_t n_pages)
{
	const struct structure *structure = writing->structure;
	qpdf_data file = writing->file;
	qpdf_oh numbers = qpdf_oh_new_array(file);
	for (size_t i = 0; i < structure->n_pages; i++) {
		qpdf_oh owners = qpdf_oh_new_array(file);
		for (size_t piece = 0; piece < structure->pages[i].n; piece++)
			qpdf_oh_append_item(file, owners, writing->elements[structure->pages[i].owners[piece]]);
		object_append(file, numbers, qpdf_oh_new_integer(file, (long long)i));
		object_append(file, numbers, owners);
	}
	for (size_t i = 0; i < structure->n_links; i++) {
		object_append(file, numbers, qpdf_oh_new_integer(file, (long long)(n_pages + i)));
		qpdf_oh_append_item(file, numbers, writing->elements[structure->link_owners[i]]);
	}
	qpdf_oh tree = qpdf_oh_new_dictionary(file);
	object_set(file, tree, "/Nums", numbers);
	return object_reference(file, tree);
}

void structure_write(const struct structure *structure, qpdf_data file, const qpdf_oh *pages, size_t n_pages,
                     const qpdf_oh *links, size_t n_links)
{
	assert(n_links == structure->n_links);
	struct writing writing = {structure, file, pages, links,
	                          arena_alloc(structure->arena, structure->n * sizeof(qpdf_oh))};
	qpdf_oh root = object_reference(file, object_parsed(file, "<< /Type /StructTreeRoot >>"));
	for (size_t i = 0; i < structure->n; i++)
		writing.elements[i] = object_reference(file, qpdf_oh_new_dictionary(file));
	for (size_t i = 0; i < structure->n; i++)
		write_element(&writing, i, root);
	object_set(file, root, "/K", writing.elements[0]);
	object_set(file, root, "/ParentTree", parent_tree(&writing, n_pages));
	object_set_integer(file, root, "/ParentTreeNextKey", (long long)(n_pages + n_links));
	object_set(file, qpdf_get_root(file), "/StructTreeRoot", root);
}
