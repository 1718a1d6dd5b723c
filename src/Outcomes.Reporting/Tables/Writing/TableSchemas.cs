using System.Collections.Immutable;

namespace Outcomes.Reporting.Tables;

/// <summary>Every table that a run can write as CSV, in the order in which README lists them.</summary>
public static class TableSchemas
{
    public static ImmutableArray<TableSchema> All { get; } =
    [
        CountsTable.Table.Schema, ValuesTable.Table.Schema, EstimatesTable.Table.Schema, RunChartsTable.Table.Schema,
        VerdictsTable.Table.Schema, YearTable.Table.Schema, HarmTable.Table.Schema, MonthlyTestTable.Table.Schema,
        CaseMixTable.Table.Schema, ExpectedTable.Table.Schema, ChallengerTable.Table.Schema, CaptureTable.Table.Schema,
        ChangesTable.Table.Schema, QuantitiesTable.Table.Schema, StrataTable.Table.Schema, ComparisonsTable.Table.Schema,
        FunnelTable.Table.Schema, FindingsTable.Table.Schema, LedgerTable.Table.Schema, FlowTable.Table.Schema,
        QuarantineTable.Table.Schema, ControlChartsTable.Table.Schema, AgreementTable.Table.Schema, RareEventsTable.Table.Schema,
        CaseKeyTable.Table.Schema, ActionsTable.Table.Schema,
    ];

    /// <summary>The table of a file of a set.</summary>
    /// <param name="path">The file within the set, with forward slashes.</param>
    public static TableSchema Of(string path) => All.FirstOrDefault(table => table.Path == path)
        ?? throw new InvalidOperationException($"{path} is written without a schema.");
}
