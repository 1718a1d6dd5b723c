using System.Globalization;
using System.Text;

namespace Outcomes.Records;

/// <summary>
/// What keeps a text cell of a CSV table from doing anything: an apostrophe before what a spreadsheet would run as a formula (OWASP, "CSV
/// Injection"), full-width signs included, and <c>{U+202E}</c> in place of a character that acts instead of showing
/// (<see cref="ActingCharacters"/>). A text that already looks guarded is guarded once more, so that <see cref="Off(string)"/> gives back
/// every text exactly as it was.
/// </summary>
public static class FormulaGuard
{
    private const char Guard = '\'';
    private const string Escape = "{U+";
    private const int Digits = 4;

    /// <summary>True where the text is written otherwise than it is.</summary>
    public static bool Changes(ReadOnlySpan<char> text) =>
        Needed(text) || ActingCharacters.In(text) || text.Contains(Escape, StringComparison.Ordinal);

    /// <summary>The text with its guard, where it needs one.</summary>
    public static string On(string text)
    {
        var shown = Shown(text);
        return Needed(shown) ? Guard + shown : shown;
    }

    /// <summary>The text as it was before <see cref="On"/>; a text that was never guarded stays as it is.</summary>
    public static string Off(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Acting(text is [Guard, ..] && Needed(text) ? text[1..] : text);
    }

    /// <summary>The same of UTF-8 text: a part of <paramref name="utf8"/> nearly always.</summary>
    public static ReadOnlySpan<byte> Off(ReadOnlySpan<byte> utf8)
    {
        if (utf8.IndexOf("{U+"u8) >= 0) return Encoding.UTF8.GetBytes(Off(Encoding.UTF8.GetString(utf8)));
        if (utf8 is not [(byte)Guard, ..]) return utf8;
        var rest = utf8.TrimStart((byte)Guard);
        return StartsFormula(rest) ? utf8[1..] : utf8;
    }

    /// <summary>True for any number of apostrophes (most often none) before a character that starts a formula.</summary>
    public static bool Needed(ReadOnlySpan<char> text)
    {
        var i = 0;
        while (i < text.Length && text[i] == Guard)
            i++;
        return i < text.Length && text[i] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n' or '＝' or '＋' or '－' or '＠';
    }

    /// <summary>True where UTF-8 text begins with a character that starts a formula.</summary>
    public static bool StartsFormula(ReadOnlySpan<byte> utf8) =>
        utf8 is [(byte)'=' or (byte)'+' or (byte)'-' or (byte)'@' or (byte)'\t' or (byte)'\r' or (byte)'\n', ..]
        || utf8.StartsWith("＝"u8) || utf8.StartsWith("＋"u8) || utf8.StartsWith("－"u8) || utf8.StartsWith("＠"u8);

    // What looks like an escape already gets one more plus sign, so that no two texts look alike.
    private static string Shown(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (!ActingCharacters.In(text) && !text.Contains(Escape, StringComparison.Ordinal)) return text;
        var shown = new StringBuilder(text.Length + 16);
        for (var i = 0; i < text.Length; i++)
        {
            var length = Escaped(text.AsSpan(i)).Length;
            if (ActingCharacters.Holds(text[i]))
                shown.Append(Escape).Append(((int)text[i]).ToString("X4", CultureInfo.InvariantCulture)).Append('}');
            else if (length > 0)
                shown.Append(Escape).Append(text, i + 2, length - 2);
            else
                shown.Append(text[i]);
            i += Math.Max(0, length - 1);
        }

        return shown.ToString();
    }

    private static string Acting(string text)
    {
        if (!text.Contains(Escape, StringComparison.Ordinal)) return text;
        var acting = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            var (length, plain, character) = Escaped(text.AsSpan(i));
            if (length == 0) acting.Append(text[i]);
            else if (plain) acting.Append(character);
            else acting.Append("{U").Append(text, i + Escape.Length, length - Escape.Length);
            i += Math.Max(0, length - 1);
        }

        return acting.ToString();
    }

    // {U, plus signs, four digits and }, where the digits name a character that acts; one plus sign is the escape of it.
    private static (int Length, bool IsPlain, char Character) Escaped(ReadOnlySpan<char> text)
    {
        if (!text.StartsWith(Escape, StringComparison.Ordinal)) return default;
        var at = Escape.Length;
        while (at < text.Length && text[at] == '+') at++;
        return text.Length > at + Digits && text[at + Digits] == '}' && !text.Slice(at, Digits).ContainsAnyInRange('a', 'f')
            && ushort.TryParse(text.Slice(at, Digits), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var code)
            && ActingCharacters.Holds((char)code)
            ? (at + Digits + 1, at == Escape.Length, (char)code)
            : default;
    }
}
