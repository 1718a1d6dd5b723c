namespace Outcomes.Records;

/// <summary>
/// The apostrophe that keeps a spreadsheet from running a text cell as a formula (OWASP, "CSV Injection"). A text that
/// already looks guarded is guarded once more, so that <see cref="Off(string)"/> gives back every text exactly as it was.
/// </summary>
public static class FormulaGuard
{
    private const char Guard = '\'';

    /// <summary>The text with its guard, where it needs one.</summary>
    public static string On(string text) => Needed(text) ? Guard + text : text;

    /// <summary>The text as it was before <see cref="On"/>; a text that was never guarded stays as it is.</summary>
    public static string Off(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text is [Guard, ..] && Needed(text) ? text[1..] : text;
    }

    /// <summary>The same of UTF-8 text: a part of <paramref name="utf8"/>.</summary>
    public static ReadOnlySpan<byte> Off(ReadOnlySpan<byte> utf8)
    {
        if (utf8 is not [(byte)Guard, ..]) return utf8;
        var rest = utf8.TrimStart((byte)Guard);
        return rest is [(byte)'=' or (byte)'+' or (byte)'-' or (byte)'@' or (byte)'\t' or (byte)'\r' or (byte)'\n', ..] ? utf8[1..] : utf8;
    }

    /// <summary>True for any number of apostrophes (most often none) before a character that starts a formula.</summary>
    public static bool Needed(ReadOnlySpan<char> text)
    {
        var i = 0;
        while (i < text.Length && text[i] == Guard)
            i++;
        return i < text.Length && text[i] is ('=' or '+' or '-' or '@' or '\t' or '\r' or '\n');
    }
}
