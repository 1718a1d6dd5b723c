using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Tables;

namespace Outcomes.Reporting.AnalysisSet;

/// <summary>A row of <c>measure_definitions.csv</c>.</summary>
/// <param name="Definition">The measure.</param>
/// <param name="IsHeadline">True where the report opens with it.</param>
/// <param name="IsAnswered">True where some source can answer it.</param>
public sealed record DefinedMeasure(Measure Definition, bool IsHeadline, bool IsAnswered);

/// <summary><c>measure_definitions.csv</c>: every measure as it ran.</summary>
public static class MeasureDefinitionsTable
{
    internal static readonly CsvTable<DefinedMeasure> Table = new CsvTable<DefinedMeasure>(
        "measure_definitions.csv",
        "Every measure as it ran",
        "One row is one measure, headline measures first, in the order of the report.")
        .Word("measure", "Its id.", row => row.Definition.Id)
        .Word("title", "Its title.", row => row.Definition.Title)
        .Word("kind", "Proportion or quantity.", row => Word(row.Definition.Kind), "proportion", "quantity")
        .YesNo("headline", "Whether the report opens with it.", row => row.IsHeadline)
        .YesNo("answered", "Whether some source collects what it needs; the table measures has rows of those alone.", row => row.IsAnswered)
        .Text("eligible", "SQL condition: which records it is asked of.", row => row.Definition.Eligible)
        .Text("met", "SQL condition: which of those meet it; empty for a quantity.", row => row.Definition.Met)
        .Text("value", "SQL expression of a quantity; empty for a proportion.", row => row.Definition.Value)
        .Text("unit", "UCUM unit of a quantity.", row => row.Definition.Unit)
        .Word("missing_rule", "What an unknown answer counts as: dropped (left out) or not_done (not met).",
            row => row.Definition.Missing == MissingRule.NotDone ? "not_done" : "dropped", "dropped", "not_done")
        .Word("direction", "Which way is better.", row => Word(row.Definition.Direction), "up", "down", "none")
        .Number("per", "What its rate is printed per: 100 for percentages.", row => row.Definition.Per)
        .Text("why", "Why it is asked.", row => row.Definition.Why)
        .Text("source", "Where the definition comes from.", row => row.Definition.Source)
        .With(schema => schema with { DepartmentOnly = true, Key = ["measure"] });

    /// <summary>Its schema.</summary>
    public static TableSchema Schema => Table.Schema;

    /// <summary>Writes it.</summary>
    public static void Write(string file, IEnumerable<DefinedMeasure> measures) => Table.Write(file, measures);

    private static string Word(MeasureKind kind) => kind == MeasureKind.Quantity ? "quantity" : "proportion";

    private static string Word(Direction direction) => direction switch { Direction.Up => "up", Direction.Down => "down", _ => "none" };
}
