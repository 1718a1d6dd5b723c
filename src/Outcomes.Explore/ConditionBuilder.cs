using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Explore;

/// <summary>A condition from a field, a comparison and a value as a person chooses them.</summary>
public static class ConditionBuilder
{
    private static readonly ImmutableArray<string> Comparisons = ["=", "<>", ">=", "<=", ">", "<", "is null", "is not null"];

    /// <summary>The text of a condition.</summary>
    /// <param name="use">The field.</param>
    /// <param name="comparison">How it is compared.</param>
    /// <param name="value">The value, by its title or as the dictionary writes it.</param>
    /// <param name="titles">The titles of fields and values.</param>
    /// <exception cref="Failure">The three do not fit (exit 2).</exception>
    public static string Compose(FieldUse use, string comparison, string value, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(use);
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(titles);
        if (!Comparisons.Contains(comparison))
            throw Wrong("choose a comparison from the list");
        if (comparison.StartsWith("is", StringComparison.Ordinal))
            return $"{use.Name} {comparison}";
        return use.Kind switch
        {
            FieldUseKind.YesNo => Equality(use, comparison, titles) is var same
                && Find(use, ["yes", "no"], value, titles) == "yes" == same ? use.Name : $"not {use.Name}",
            FieldUseKind.Number => decimal.TryParse(value.Trim(), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture, out var number)
                ? $"{use.Name} {comparison} {number.ToString(CultureInfo.InvariantCulture)}"
                : throw Wrong($"{titles.Column(use.Name)} is a number; write one, such as 60"),
            FieldUseKind.Date => ReportedTime.TryParse(value.Trim(), out DateOnly date)
                ? $"{use.Name} {comparison} '{date:yyyy-MM-dd}'"
                : throw Wrong($"{titles.Column(use.Name)} is a date; write one, such as 2026-03-31"),
            _ => Equality(use, comparison, titles) is var _ && use.Allowed.IsEmpty
                ? $"{use.Name} {comparison} {Quoted(value.Trim())}"
                : $"{use.Name} {comparison} {Quoted(Find(use, use.Allowed, value, titles))}",
        };
    }

    /// <summary>A condition with one more part.</summary>
    public static string Add(ReadCondition condition, string part)
    {
        ArgumentNullException.ThrowIfNull(condition);
        return string.Join(" and ", condition.Parts.Select(each => each.Text).Append(part).Distinct());
    }

    /// <summary>A condition without one of its parts.</summary>
    public static string Remove(ReadCondition condition, int at)
    {
        ArgumentNullException.ThrowIfNull(condition);
        return string.Join(" and ", condition.Parts.Where((_, i) => i != at).Select(each => each.Text));
    }

    private static bool Equality(FieldUse use, string comparison, Titles titles) => comparison is "=" or "<>"
        ? comparison == "="
        : throw Wrong($"{titles.Column(use.Name)} has no order; choose “is” or “is not”");

    private static string Find(FieldUse use, ImmutableArray<string> allowed, string value, Titles titles) =>
        allowed.FirstOrDefault(each => each.Equals(value.Trim(), StringComparison.OrdinalIgnoreCase)
            || titles.Level(use.Name, each).Equals(value.Trim(), StringComparison.OrdinalIgnoreCase))
        ?? throw Wrong($"that is no value of {titles.Column(use.Name)}; its values are "
            + string.Join(", ", allowed.Select(each => titles.Level(use.Name, each))));

    private static string Quoted(string text) => "'" + text.Replace("'", "''", StringComparison.Ordinal) + "'";

    private static Failure Wrong(string message) => new(ExitCode.Usage, message);
}
