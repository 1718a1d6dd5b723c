using Outcomes.Analysis;

namespace Outcomes.Reporting.Tables;

/// <summary><c>flow.csv</c>: who is counted and who is not, and why.</summary>
internal static class FlowTable
{
    public static readonly CsvTable<(string Period, Flow Flow)> Table = new CsvTable<(string Period, Flow Flow)>(
        "tables/flow.csv",
        "Who is counted: records of each month and of the last 12, those left out and why, and those analysed",
        "One row is one period. recorded is the sum of the columns after it: each record stands in one of them, the first that holds.")
        .Period(row => row.Period)
        .Number("recorded", "Accepted records of the period.", row => row.Flow.Recorded)
        .Number("not_emergency", "Planned procedures.", row => row.Flow.NotEmergency)
        .Number("under_16", "Children under 16 years, who are in no adult figure.", row => row.Flow.UnderSixteen)
        .Number("no_attempt", "Records that state that no airway attempt was made.", row => row.Flow.NoAttempt)
        .Number("not_known", "Records that do not say whether they belong, and are missing in every figure.", row => row.Flow.NotKnown)
        .Number("analysed", "The emergency population: the records that measures start from.", row => row.Flow.Analysed)
        .With(schema => schema with { DepartmentOnly = true, Key = ["period"] });

    /// <summary>A row a month, months without records included, and one for the last 12 months.</summary>
    public static void Write(Func<string, string> place, Figures figures)
    {
        var months = figures.Flows.Select((flow, i) => (figures.First.AddMonths(i).ToString(), flow));
        Table.Write(place, figures.YearFrom == figures.Month
            ? months
            : months.Append(($"{figures.YearFrom}/{figures.Month}", figures.YearFlow!)));
    }
}
