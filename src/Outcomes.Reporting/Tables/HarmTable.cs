using Outcomes.Analysis;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>harm.csv</c>.</summary>
internal sealed record HarmRow(string Event, string Period, HarmSpan Span);

/// <summary><c>harm.csv</c>: events of harm among all procedures, as the first page counts them.</summary>
internal static class HarmTable
{
    public static readonly CsvTable<HarmRow> Table = new CsvTable<HarmRow>(
        "tables/harm.csv",
        "Events of harm among all procedures: the report month, the last 12 months and the 12 before",
        "One row is one event in one period. Every accepted record counts, whoever the patient, as it was recorded.")
        .Text("event", "The event, as the flags that count towards it name it.", row => row.Event)
        .Period(row => row.Period)
        .Number("events", "Procedures in which it happened.", row => row.Span.Events)
        .Number("unknown", "Procedures that do not say whether it did.", row => row.Span.Unknown)
        .Number("procedures", "All procedures of the period.", row => row.Span.Procedures)
        .With(schema => schema with { DepartmentOnly = true, Key = ["event", "period"] });

    public static void Write(Func<string, string> place, Figures figures)
    {
        var year = figures.YearFrom == figures.Month ? null : $"{figures.YearFrom}/{figures.Month}";
        var before = $"{figures.YearFrom.AddMonths(-12)}/{figures.YearFrom.AddMonths(-1)}";
        Table.Write(place, figures.Harm.SelectMany(harm => new[]
        {
            new HarmRow(harm.Event, $"{figures.Month}", harm.Month),
            year is null ? null : new(harm.Event, year, harm.Year),
            harm.Before is { } span ? new(harm.Event, before, span) : null,
        }.OfType<HarmRow>()));
    }
}
