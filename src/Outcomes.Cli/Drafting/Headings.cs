using System.Collections.Immutable;
using System.Text.RegularExpressions;

namespace Outcomes.Cli.Drafting;

/// <summary>What a heading says beside its name: a unit, a legend of codes.</summary>
public static partial class Headings
{
    private static readonly Dictionary<string, string> Units = new(StringComparer.OrdinalIgnoreCase)
    {
        ["s"] = "s",
        ["sec"] = "s",
        ["secs"] = "s",
        ["second"] = "s",
        ["seconds"] = "s",
        ["min"] = "min",
        ["mins"] = "min",
        ["minute"] = "min",
        ["minutes"] = "min",
        ["h"] = "h",
        ["hr"] = "h",
        ["hrs"] = "h",
        ["hour"] = "h",
        ["hours"] = "h",
        ["kpa"] = "kPa",
        ["mmhg"] = "mm[Hg]",
        ["mm hg"] = "mm[Hg]",
        ["%"] = "%",
        ["percent"] = "%",
        ["fraction"] = "1",
        ["kg"] = "kg",
        ["g"] = "g",
        ["cm"] = "cm",
        ["m"] = "m",
        ["mm"] = "mm",
        ["ml"] = "mL",
        ["l"] = "L",
        ["mg"] = "mg",
        ["degrees"] = "deg",
        ["deg"] = "deg",
        ["years"] = "a",
        ["yrs"] = "a",
        ["y"] = "a",
    };

    // A bare "min" at the end of a name means lowest as often as minutes: only brackets make it a unit.
    private static readonly string[] OnlyInBrackets = ["min", "m", "h", "g", "l", "y", "s"];

    /// <summary>The unit that a heading states, in UCUM; null when it states none.</summary>
    public static string? Unit(string heading)
    {
        var bare = WithoutLegend(heading);
        foreach (Match match in Bracketed().Matches(bare))
            if (Units.TryGetValue(match.Groups[1].Value.Trim(), out var unit)) return unit;
        return Last().Match(bare) is { Success: true } last && !OnlyInBrackets.Contains(last.Groups[1].Value.ToLowerInvariant())
            ? Units.GetValueOrDefault(last.Groups[1].Value) : bare.EndsWith('%') ? "%" : null;
    }

    /// <summary>The heading without legend and unit.</summary>
    public static string WithoutUnit(string heading)
    {
        var bare = Bracketed()
            .Replace(WithoutLegend(heading), match => Units.ContainsKey(match.Groups[1].Value.Trim()) ? " " : match.Value);
        return Last().Match(bare) is { Success: true } last && !OnlyInBrackets.Contains(last.Groups[1].Value.ToLowerInvariant())
            && Units.ContainsKey(last.Groups[1].Value)
            ? bare[..last.Index] : bare;
    }

    /// <summary>The codes that a heading explains, such as <c>Urgency (1 = immediate, 2 = urgent)</c>.</summary>
    public static ImmutableDictionary<string, string> Legend(string heading) =>
        Entries(heading).GroupBy(entry => entry.Code).ToImmutableDictionary(group => group.Key, group => group.First().Text);

    private static string WithoutLegend(string heading) =>
        Entries(heading) is [var first, ..] ? heading[..first.At].TrimEnd(' ', '(', '[', ':', '-') : heading;

    private static List<(string Code, string Text, int At)> Entries(string heading)
    {
        var found = LegendEntry().Matches(heading)
            .Select(match => (match.Groups[1].Value, match.Groups[2].Value.Trim(), match.Index)).ToList();
        return found.Count >= 2 ? found : [];
    }

    [GeneratedRegex(@"[\(\[]([^\)\]]*)[\)\]]")]
    private static partial Regex Bracketed();

    [GeneratedRegex(@"[ _]([A-Za-z]+)$")]
    private static partial Regex Last();

    [GeneratedRegex(@"\b(\d{1,2})\s*[=:]\s*([^,;/\)\]\d]+)")]
    private static partial Regex LegendEntry();
}
