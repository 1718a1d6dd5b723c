using System.Globalization;
using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Dates in the shape of a date of birth: a calendar date of the years 1900 to 1999 (no procedure is that old here), or any date
/// that follows words of birth. A date of this century without such words is far more often the day of an event, and passes.
/// </summary>
public static partial class BirthDates
{
    /// <summary>True when the text holds such a date.</summary>
    public static bool Find(ReadOnlySpan<char> text)
    {
        foreach (var match in Shape().EnumerateMatches(text))
            if (Year(text.Slice(match.Index, match.Length)) is var year and >= 1900 and < 2100 && (year < 2000 || Words().IsMatch(text[..match.Index])))
                return true;
        return false;
    }

    // The last number is the year, unless the first is longer; two digits from 31 on are of the last century.
    private static int Year(ReadOnlySpan<char> date)
    {
        var first = date.IndexOfAnyExceptInRange('0', '9');
        var last = date.LastIndexOfAnyExceptInRange('0', '9') + 1;
        var written = first == 4 ? date[..4] : date[last..];
        var year = int.Parse(written, NumberStyles.None, CultureInfo.InvariantCulture);
        return written.Length == 4 ? year : year > 30 ? 1900 + year : 2000 + year;
    }

    [GeneratedRegex(@"(?<![\w.])(?:(?:0?[1-9]|[12]\d|3[01])(?:st|nd|rd|th)?[ /.-](?:(?:0?[1-9]|1[0-2])[ /.-]\d{4}|(?:0[1-9]|1[0-2])[/.-]\d{2}|(?:Jan|Feb|Mar|Apr|May|June?|July?|Aug|Sept?|Oct|Nov|Dec)[a-z]{0,6}[ /.,-]{1,2}(?:\d{4}|\d{2}))|(?:0?[1-9]|1[0-2])/(?:1[3-9]|2\d|3[01])/\d{4}|(?:Jan|Feb|Mar|Apr|May|June?|July?|Aug|Sept?|Oct|Nov|Dec)[a-z]{0,6} \d{1,2}(?:st|nd|rd|th)?,? \d{4}|(?:19|20)\d\d[ /.-](?:0[1-9]|1[0-2])[ /.-](?:0[1-9]|[12]\d|3[01]))(?![\d]|[/.-]\d)", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Shape();

    [GeneratedRegex(@"\b(?:d\.?o\.?b|born|birth(?:day|date)?|date of birth)\b.{0,12}$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Words();
}
