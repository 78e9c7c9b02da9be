/**
 * Pixels of the largest picture that is drawn: 600 dpi of an A2 sheet. Drawing takes four bytes a pixel, more than
 * once; a larger picture is left out of its page.
 */
export const LARGEST_IMAGE = 9_921 * 14_031;
