using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>signals.csv</c>.</summary>
internal sealed record SignalsRow(
    string Measure, string Stratum, string Level, string Rule, Month From, Month To, double? FalseAlarm, string Source);

/// <summary><c>signals.csv</c>: evidence of change.</summary>
internal static class SignalsTable
{
    public static readonly CsvTable<SignalsRow> Table = new CsvTable<SignalsRow>(
        "tables/signals.csv",
        "Evidence of change, with the chance of a false alarm and the source of the rule",
        "One row is one rule that a measure meets. A measure without a row shows no evidence of change.")
        .Measure(row => row.Measure).Stratum(row => row.Stratum).Level(row => row.Level)
        .Word("rule", "Name of the rule. Names that start with monthly_test belong to the monthly test, the others to the run chart.",
            row => row.Rule)
        .Month("from", "First month of the evidence; for the monthly test, the first month in which the change may have started.",
            row => row.From)
        .Month("to", "Last month of the evidence.", row => row.To)
        .Decimal(SharedColumns.Fraction("false_alarm", "Chance that a stable department shows this signal, from 0 to 1."),
            row => row.FalseAlarm)
        .Word("source", "Publication or study that the rule comes from.", row => row.Source);
}
