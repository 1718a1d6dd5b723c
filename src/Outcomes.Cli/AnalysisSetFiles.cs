using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Cli.Output;
using Outcomes.Measures;
using Outcomes.Reporting.AnalysisSet;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli;

/// <summary>Writes the analysis set: tables as CSV and Parquet, their codebook, their description, and scripts that read them.</summary>
internal static class AnalysisSetFiles
{
    private static readonly string[] Tables =
        [AnalysisSchemas.Procedure, AnalysisSchemas.Attempt, AnalysisSchemas.Trace, AnalysisSchemas.Measures];

    /// <summary>The Parquet files of a folder; the engine is opened with leave to write these and no others.</summary>
    public static ImmutableArray<string> Parquet(string folder) =>
        [.. Tables.Select(table => Path.Combine(Path.GetFullPath(folder), "parquet", table + ".parquet"))];

    /// <summary>Writes every file of the set.</summary>
    /// <returns>The tables of records with their numbers of rows.</returns>
    public static IReadOnlyList<(string Table, long Rows)> Write(string folder, CheckedRecords records, AnalysisPlan plan)
    {
        var (engine, definitions) = (records.Engine, plan.Definitions);
        var columns = engine.MakeAnalysis(definitions.Measures);
        var tables = AnalysisSchemas.Of(columns, plan.Titles);
        Directory.CreateDirectory(Path.Combine(folder, "parquet"));
        var written = tables.Select(table =>
        {
            engine.WriteAnalysis(table.Name, Path.Combine(Path.GetFullPath(folder), "parquet", table.Name + ".parquet"));
            return (table.Name, WriteCsv(engine, folder, table));
        }).ToArray();
        ImmutableArray<DefinedMeasure> measures = [.. definitions.Measures
            .Select(measure => new DefinedMeasure(measure, plan.IsHeadline(measure), columns.Measures.Contains(measure.Id)))];
        MeasureDefinitionsTable.Write(Path.Combine(folder, MeasureDefinitionsTable.Schema.Path), measures);
        ImmutableArray<TableSchema> described = [.. tables, MeasureDefinitionsTable.Schema];
        CodebookTable.Write(folder, described);
        var head = new AnalysisHead(plan.Name, plan.AsOf, plan.Month, DepartmentCounts.FirstOfYear(plan, records.ByMonth.Keys),
            Tool.Version, definitions.Hash)
        { Invented = plan.Invented };
        WholeFile.Write(Path.Combine(folder, CodebookPage.File), CodebookPage.Utf8(head, described, measures));
        foreach (var (name, script) in ReadScripts.Of(head))
            WholeFile.Write(Path.Combine(folder, name), script);
        DataPackage.Write(folder, plan.Name, [.. tables, .. AnalysisSchemas.Fixed, .. tables.Select(AnalysisSchemas.AsParquet)]);
        return written;
    }

    private static long WriteCsv(Engine engine, string folder, TableSchema table)
    {
        var rows = 0L;
        TableWriter.ToFile(Path.Combine(folder, table.Path), [.. table.Columns.Select(column => column.Name)], csv =>
        {
            foreach (var row in engine.ReadAnalysis(table.Name))
            {
                foreach (var cell in row)
                    QueriedValue.Write(csv, cell);
                csv.End();
            }

            rows = csv.Rows;
        });
        return rows;
    }
}
