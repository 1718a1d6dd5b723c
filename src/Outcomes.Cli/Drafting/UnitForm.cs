using Outcomes.Ingestion.Parsing;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>The unit of a column of numbers.</summary>
/// <param name="Unit">The file's unit, or null where it is the dictionary's.</param>
/// <param name="Doubt">What cannot be told, as a question; null when nothing is in doubt.</param>
/// <param name="From">Where the unit comes from: the heading, the distribution, or the dictionary.</param>
public sealed record UnitForm(string? Unit, string? Doubt, string From)
{
    private const double Most = 0.8;
    private const double Few = 0.2;

    private static readonly Dictionary<string, string> Other = new()
    {
        ["min"] = "s",
        ["s"] = "min",
        ["%"] = "1",
        ["mm[Hg]"] = "kPa",
        ["cm"] = "m",
        ["mm"] = "cm",
        ["h"] = "d",
        ["kg"] = "g",
        ["mL"] = "L",
        ["mg"] = "g",
    };

    /// <summary>The unit that heading and values agree on; where they do not, or neither says enough, a doubt.</summary>
    public static UnitForm Of(ColumnProfile column, Field field, Vocabulary vocabulary)
    {
        if (field.Unit is not { } own) return new UnitForm(null, null, "dictionary");
        var stated = Headings.Unit(column.Heading) is { } unit && Units.Between(unit, own) is not null ? unit : null;
        if (vocabulary.Typical(field) is not var (low, high) || !Other.TryGetValue(own, out var other) || Units.Between(other, own) is null)
            return new UnitForm(stated == own ? null : stated, null, stated is null ? "dictionary" : "heading");
        double Share(string candidate)
        {
            var (multiply, divide) = Units.Between(candidate, own)!.Value;
            var counted = column.Numbers.Where(number => number.Value != 0).ToArray();
            return counted.Length == 0 ? 0 : (double)counted.Where(number => number.Value * multiply / divide >= low
                && number.Value * multiply / divide <= high).Sum(number => number.Rows) / counted.Sum(number => number.Rows);
        }

        var (asOwn, asOther) = (Share(own), Share(other));
        var seen = asOwn >= Most && asOther <= Few ? own : asOther >= Most && asOwn <= Few ? other : null;
        if (stated is not null)
            return seen is not null && seen != stated && Share(stated) <= Few
                ? new UnitForm(null, $"the heading says {stated}, but nearly all values look like {seen}; which is it?", "heading")
                : new UnitForm(stated == own ? null : stated, null, "heading");
        if (seen is not null) return new UnitForm(seen == own ? null : seen, null, "distribution");
        if (column.Numbers.Length == 0) return new UnitForm(null, null, "dictionary");
        return asOwn > Few && asOther > Few && asOwn < Most && asOther < Most && asOwn + asOther >= Most
            ? new UnitForm(null,
                $"some values look like {own} and others like {other}; write one unit in the export, and say which it is", "distribution")
            : new UnitForm(null, $"is it in {own} or in {other}? Neither the heading nor the values tell", "distribution");
    }
}
