/*
 * blind.c - the second check on paper: what goes in on the left, blanks on the right.
 */
#include "page/sections.h"
#include "page/styles.h"

#include <math.h>

#define NUMBER_WIDTH 9.0
#define INPUT_WIDTH 82.0
#define QUESTION_X 98.0
#define BLANK_RIGHT 14.0 /* left of the column's end: room for a unit */
#define BLANK_WIDTH 24.0
#define PAD 4.0
#define INPUT_PITCH 5.4
#define QUESTION_PITCH 9.0
#define HEAD_HEIGHT 7.0
#define FOOT_HEIGHT 37.0

static double inputs_height(struct composer *composer, const struct blind_row *row)
{
	double height = INPUT_PITCH * 2;
	for (size_t i = 0; i < row->n_inputs; i++)
		height +=
			composer_text_height(composer, row->inputs[i], regular(composer, TYPE_BODY), INPUT_WIDTH) + 2.5;
	return height;
}

static double row_height(struct composer *composer, const struct blind_row *row)
{
	return 2 * PAD + fmax(inputs_height(composer, row), (double)row->n_questions * QUESTION_PITCH - 3);
}

static void put_inputs(struct composer *composer, const struct blind_row *row, double y)
{
	double x = composer->left + NUMBER_WIDTH;
	put_paragraph(composer, row->number, bold(composer, TYPE_SECTION), composer->left, y - 0.6, 0);
	put_heading(composer, ROLE_H3, row->name, bold(composer, TYPE_LEAD), x, y, INPUT_WIDTH);
	y += INPUT_PITCH + 0.8;
	y += put_paragraph(composer, row->ordered, bold(composer, TYPE_BODY), x, y, INPUT_WIDTH).height + 2.5;
	for (size_t i = 0; i < row->n_inputs; i++)
		y += put_paragraph(composer, row->inputs[i], regular(composer, TYPE_BODY), x, y, INPUT_WIDTH).height +
		     2.5;
}

static void put_question(struct composer *composer, const struct blind_question *question, double y)
{
	struct text_style body = regular(composer, TYPE_BODY);
	double x = composer->left + QUESTION_X;
	double right = composer->right - BLANK_RIGHT;
	double line = y + text_cap_height(body) + 0.8;
	begin_group(composer, ROLE_PARAGRAPH);
	put_plain(composer, question->name, regular(composer, TYPE_REFERENCE), x - 7,
	          y + text_cap_height(body) - text_cap_height(regular(composer, TYPE_REFERENCE)), 0);
	put_plain(composer, question->label, body, x, y, right - BLANK_WIDTH - 2 - x);
	put_line(composer, right - BLANK_WIDTH, right, line, LINE_OUTLINE);
	put_plain(composer, question->unit, body, right + 2, y, 0);
	end_group(composer);
}

static void put_row(struct composer *composer, const struct blind_row *row, double y, double height)
{
	begin_group(composer, ROLE_ROW);
	begin_group(composer, ROLE_CELL);
	put_inputs(composer, row, y + PAD);
	end_group(composer);
	begin_group(composer, ROLE_CELL);
	for (size_t i = 0; i < row->n_questions; i++)
		put_question(composer, &row->questions[i], y + PAD + (double)i * QUESTION_PITCH);
	end_group(composer);
	end_group(composer);
	put_line(composer, composer->left, composer->right, y + height, LINE_OUTLINE);
}

static void put_head(struct composer *composer, const char *head, double x)
{
	begin_head_cell(composer, SCOPE_COLUMN);
	put_plain(composer, head, bold(composer, TYPE_BODY), x, composer->top, 0);
	end_group(composer);
}

/* Opens a page with the table on it, which the caller ends; returns where its rows begin. */
static double begin_rows(struct composer *composer, const struct blind_sheet *sheet)
{
	composer_new_page(composer, composer->section->title, composer->section->lead);
	begin_group(composer, ROLE_TABLE);
	begin_group(composer, ROLE_ROW);
	put_head(composer, sheet->inputs_heading, composer->left);
	put_head(composer, sheet->answers_heading, composer->left + QUESTION_X);
	end_group(composer);
	put_line(composer, composer->left, composer->right, composer->top + 5.2, LINE_MAIN);
	return composer->top + HEAD_HEIGHT - 1.8;
}

static void put_foot(struct composer *composer, const struct blind_sheet *sheet)
{
	struct rect area = {composer->left, composer->bottom - FOOT_HEIGHT, LIVE_WIDTH, FOOT_HEIGHT};
	struct text_style small = regular(composer, TYPE_REFERENCE);
	double line = area.y + FOOT_HEIGHT - 8;
	put_frame(composer, area, LINE_MAIN);
	put_paragraph(composer, sheet->then_line, bold(composer, TYPE_BODY), area.x + 4, area.y + 4, area.width - 8);
	put_paragraph(composer, sheet->differs_line, regular(composer, TYPE_BODY), area.x + 4, area.y + 9.6,
	              area.width - 8);
	put_line(composer, area.x + 4, area.x + 70, line, LINE_FINE);
	put_line(composer, area.x + 76, area.x + 120, line, LINE_FINE);
	put_plain(composer, sheet->checker_word, small, area.x + 4, line + 2, 0);
	put_plain(composer, sheet->date_word, small, area.x + 76, line + 2, 0);
	put_tick(composer, (struct point){area.x + 130, line - 6}, 7.5);
	put_plain(composer, sheet->agree_word, regular(composer, TYPE_BODY), area.x + 141, line - 3.5, 0);
}

void blind_place(struct composer *composer, const struct blind_sheet *sheet)
{
	double y = begin_rows(composer, sheet);
	for (size_t i = 0; i < sheet->n_rows; i++) {
		double height = row_height(composer, &sheet->rows[i]);
		if (y + height > composer->bottom) {
			end_group(composer);
			y = begin_rows(composer, sheet);
		}
		put_row(composer, &sheet->rows[i], y, height);
		y += height;
	}
	end_group(composer);
	if (y + GAP_3 + FOOT_HEIGHT > composer->bottom)
		composer_new_page(composer, composer->section->title, composer->section->lead);
	put_foot(composer, sheet);
}
