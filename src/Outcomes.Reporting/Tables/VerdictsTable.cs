using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>verdicts.csv</c>.</summary>
internal sealed record VerdictsRow(Month Month, Verdict Verdict, Titles Titles);

/// <summary><c>verdicts.csv</c>: the one label and sentence of every measure that something is asked of, with the numbers behind.</summary>
internal static class VerdictsTable
{
    private static readonly Dictionary<VerdictLabel, string> Labels = Enum.GetValues<VerdictLabel>()
        .ToDictionary(label => label, label => Snake($"{label}"));

    private static readonly Dictionary<VerdictReason, string> Reasons = Enum.GetValues<VerdictReason>()
        .ToDictionary(reason => reason, reason => Snake($"{reason}"));

    private static readonly Dictionary<VerdictCaution, string> Cautions = Enum.GetValues<VerdictCaution>()
        .ToDictionary(caution => caution, caution => Snake($"{caution}"));

    public static readonly CsvTable<VerdictsRow> Table = new CsvTable<VerdictsRow>(
        "tables/verdicts.csv",
        "The verdict on each measure: whether it changed, in one label and one sentence, with the numbers behind it",
        "One row is one measure that is tested, compared once a year, or named by a declared change. Rates are of the measure met, from 0 "
        + "to 1. Everything that a report says of change is here.")
        .Measure(row => row.Verdict.Measure.Id)
        .Month("period", "The report month.", row => row.Month)
        .Word("label", "The verdict.", row => Labels[row.Verdict.Label], [.. Labels.Values])
        .Word("reason", "The row of the decision table that gave it (docs/statistics/verdict.md).", row => Reasons[row.Verdict.Reason],
            [.. Reasons.Values])
        .Word("caution", "The caution that goes with it.", row => Cautions[row.Verdict.Caution], [.. Cautions.Values])
        .Count(row => row.Verdict.Year)
        .Decimal(SharedColumns.Fraction("now", "The level now, by the monthly test; empty where it is not tested."),
            row => Six(row, row.Verdict.Now?.Value))
        .Decimal(SharedColumns.Fraction("now_lower", "Lower end of its 95 % range."), row => Six(row, row.Verdict.Now?.Interval.Lower))
        .Decimal(SharedColumns.Fraction("now_upper", "Upper end of its 95 % range."), row => Six(row, row.Verdict.Now?.Interval.Upper))
        .YesNo("adjusted", "Whether the level is adjusted for case mix; empty where it is not tested.",
            row => row.Verdict.Now is null ? null : row.Verdict.IsAdjusted)
        .Text("changed_about", "Likeliest month of the change; empty without a signal of the monthly test.",
            row => row.Verdict.Change?.Likeliest.ToString())
        .Text("changed_from", "First month of the range that holds it with 80 %.", row => row.Verdict.Change?.From.ToString())
        .Text("changed_to", "Last month of that range.", row => row.Verdict.Change?.To.ToString())
        .Text("reported", "The month whose report gave the signal.", row => row.Verdict.Change?.Reported.ToString())
        .Decimal(SharedColumns.Fraction("before", "The level in the month before that range."), row => Six(row, row.Verdict.Change?.Before))
        .Text("evaluated_with", "The month of the planned evaluation that the sentence tells of; empty without one.",
            row => row.Verdict.Evaluation?.Due.ToString())
        .Decimal("difference", "After minus before in that evaluation; empty before its month.",
            row => row.Verdict.Evaluation?.Difference?.Value)
        .Decimal("difference_lower", "Lower end of its interval.", row => row.Verdict.Evaluation?.Difference?.Lower)
        .Decimal("difference_upper", "Upper end of its interval.", row => row.Verdict.Evaluation?.Difference?.Upper)
        .Decimal(SharedColumns.Percent("difference_level_pct", "Level of that interval."),
            row => row.Verdict.Evaluation?.Difference is { } difference ? 100 * difference.Level : null)
        .Decimal(SharedColumns.Fraction("worse_to", "A change for the worse that the next column tells of."),
            row => row.Verdict.Noticed?.To)
        .Decimal(SharedColumns.Fraction("noticed", "Chance that it would be noticed within 12 months, simulated."),
            row => row.Verdict.Noticed?.Noticed)
        .Decimal(SharedColumns.Fraction("p", "p value of the yearly comparison of a rare event; empty elsewhere."),
            row => row.Verdict.Rare?.P)
        .Integer("tipping_records", "Missing records that, all of them against the conclusion, would take it away; empty where none would.",
            row => row.Verdict.Tipping?.Records)
        .Integer("tipping_missing", "Missing records of the months that the conclusion rests on.", row => row.Verdict.Tipping?.Missing)
        .Word("sentence", "What the report says.", row => Plain(VerdictWording.Sentence(row.Verdict)))
        .Text("caution_sentence", "The caution as the report says it; empty without one.",
            row => VerdictWording.Caution(row.Verdict, row.Titles) is { Length: > 0 } caution ? Plain(caution) : null)
        .With(schema => schema with { DepartmentOnly = true });

    public static void Write(Func<string, string> place, Figures figures) => Table.Write(place, figures.Measures
        .Select(measure => measure.Verdict).OfType<Verdict>().Where(verdict => verdict.Reason != VerdictReason.NotAsked)
        .Select(verdict => new VerdictsRow(figures.Month, verdict, figures.Titles)));

    // What rests on a fitted model has as many digits as processors agree on.
    private static double? Six(VerdictsRow row, double? value) =>
        value is { } number && row.Verdict.IsAdjusted ? ExpectedEvents.Six(number) : value;

    private static string Plain(string text) => text.Replace(Wording.Space, " ", StringComparison.Ordinal);

    private static string Snake(string name) =>
        string.Concat(name.Select((c, i) => char.IsUpper(c) ? (i == 0 ? "" : "_") + char.ToLowerInvariant(c) : $"{c}"));
}
