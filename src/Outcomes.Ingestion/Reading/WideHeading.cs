using System.Globalization;

namespace Outcomes.Ingestion.Reading;

/// <summary>Headings such as <c>attempt2_device</c> against a pattern such as <c>attempt{n}_*</c>.</summary>
internal static class WideHeading
{
    /// <summary>The attempt's number (1 to 99) and the word in place of *, or null when the heading does not match.</summary>
    public static (int Number, string Word)? Match(string pattern, string heading)
    {
        var number = pattern.IndexOf("{n}", StringComparison.Ordinal);
        var star = pattern.IndexOf('*', StringComparison.Ordinal);
        if (number < 0 || star < number) return null;
        var (before, between, after) = (pattern[..number], pattern[(number + 3)..star], pattern[(star + 1)..]);
        if (!heading.StartsWith(before, StringComparison.Ordinal) || !heading.EndsWith(after, StringComparison.Ordinal)) return null;
        var rest = heading.AsSpan(before.Length);
        var digits = 0;
        while (digits < rest.Length && char.IsAsciiDigit(rest[digits])) digits++;
        if (digits is 0 or > 2 || !rest[digits..].StartsWith(between) || rest.Length < digits + between.Length + after.Length) return null;
        var word = rest[(digits + between.Length)..^after.Length].ToString();
        var n = int.Parse(rest[..digits], CultureInfo.InvariantCulture);
        return n >= 1 ? (n, word) : null;
    }
}
