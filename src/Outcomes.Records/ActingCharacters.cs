using System.Buffers;

namespace Outcomes.Records;

/// <summary>
/// Characters that act instead of showing: controls, escape among them, but for tab and line breaks; and the Unicode direction marks,
/// which can turn a line of a table around (UAX 9). A terminal or a page that is given them can be made to show what is not there.
/// </summary>
public static class ActingCharacters
{
    private static readonly SearchValues<char> All =
        SearchValues.Create([.. Enumerable.Range(0, char.MaxValue + 1).Select(code => (char)code).Where(Holds)]);

    public static bool Holds(char c) => c is < ' ' and not ('\t' or '\n' or '\r') or (>= '\u007f' and <= '\u009f')
        or '\u061c' or '\u200e' or '\u200f' or (>= '\u202a' and <= '\u202e') or (>= '\u2066' and <= '\u2069')
        or '\u2028' or '\u2029' or '\ufeff' or '\ufffe' or '\uffff';

    /// <summary>True where the text holds one.</summary>
    public static bool In(ReadOnlySpan<char> text) => text.ContainsAny(All);
}
