using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Outcomes.Cli.Drafting;

/// <summary>Columns that hold attempts side by side: the headings' pattern and, for each word in place of *, the columns.</summary>
public sealed partial record WideGroups(string Pattern, ImmutableArray<(string Word, ImmutableArray<int> Columns)> Words)
{
    /// <summary>The attempts in the headings; null when there are none.</summary>
    public static WideGroups? Find(ImmutableArray<string> headings)
    {
        var found = headings.Select((heading, column) => (Match: Numbered().Match(heading), column)).Where(pair => pair.Match.Success)
            .Select(pair => (Pattern: $"{pair.Match.Groups[1].Value}{{n}}{pair.Match.Groups[3].Value}*",
                Number: int.Parse(pair.Match.Groups[2].Value, CultureInfo.InvariantCulture), Word: pair.Match.Groups[4].Value, pair.column))
            .GroupBy(heading => heading.Pattern).OrderByDescending(group => group.Count())
            .ThenBy(group => group.Key, StringComparer.Ordinal).FirstOrDefault();
        return found is null || found.Count() < 2 ? null
            : new WideGroups(found.Key, [.. found.GroupBy(heading => heading.Word)
                .Select(word => (word.Key, word.OrderBy(heading => heading.Number).Select(heading => heading.column).ToImmutableArray()))]);
    }

    [GeneratedRegex(@"^(.*?(?:attempt|att|try)[ _.-]*)(\d{1,2})([ _.:-]*)(\p{L}.*)$", RegexOptions.IgnoreCase)]
    private static partial Regex Numbered();
}
