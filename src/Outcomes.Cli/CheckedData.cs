using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Cli.Checking;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Cli;

/// <summary>What the records of a pipeline say of their own quality.</summary>
/// <param name="Findings">Everything that is wrong, of rows first, then of months, then of the independent counts.</param>
/// <param name="State">The same as the report takes it, with what is missing.</param>
/// <param name="Capture">Records against the independent counts; null where the pipeline names none.</param>
public sealed record CheckedData(IReadOnlyList<Finding> Findings, DataState State, CaptureFigures? Capture)
{
    /// <summary>The independent counts of a pipeline; null where it names none.</summary>
    /// <exception cref="Failure">The file cannot be used (exit 4).</exception>
    public static IndependentCounts? IndependentCounts(PipelineDefinition pipeline)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        return pipeline.Capture is { } capture ? CountsFile.Read(capture.Path, capture.File) : null;
    }

    /// <summary>Judges the data of a pipeline up to the report month.</summary>
    public static CheckedData Judge(CheckedRecords records, AnalysisPlan plan, IndependentCounts? counted)
    {
        ArgumentNullException.ThrowIfNull(records);
        ArgumentNullException.ThrowIfNull(plan);
        var (engine, definitions) = (records.Engine, plan.Definitions);
        var yearFrom = DepartmentCounts.FirstOfYear(plan, records.ByMonth.Keys);
        var fields = ReportedFields.Find(plan, engine);
        var findings = records.Findings();
        if (records.Pipeline.ShippedRules)
            findings.AddRange(MonthFindings.List(engine, fields, records.Sources, plan.Month));
        if (records.Pipeline.UnusualRecords)
            findings.AddRange(UnusualRecordFindings.List(engine, records.Sources));
        var capture = counted is null
            ? null
            : Analysis.Capture.Compare(counted, records.ByMonth, Analysis.Capture.Sites(counted, engine), yearFrom, plan.Month);
        if (capture is not null)
            findings.AddRange([.. counted!.Findings, .. CaptureFindings.Write(counted, capture)]);
        var names = fields.Select(field => field.Name);
        var headline = definitions.Measures.Where(plan.IsHeadline)
            .Select(measure => new { measure.Id, Need = new MeasureNeed(measure.Title, engine.FieldsBehind(measure)) }).ToArray();
        var months = engine.CompletenessByMonth(names);
        return new(findings, new DataState
        {
            Inputs = [.. records.Sources.Concat(records.Traces?.Traces ?? []).Select(source =>
                new InputFile(source.Request.File, source.Manifest.Sha256, source.Manifest.Rows))],
            Reconciliations = records.Ledger.Files,
            Findings = FindingGroup.Of(findings),
            Fields = fields,
            Completeness = [.. engine.Completeness(months, names, yearFrom, plan.Month)],
            Questions = DataQuestions.Rank(
                fields, months.Where(row => row.Month <= plan.Month), yearFrom, Columns(fields, records.Sources),
                findings, [.. headline.Select(measure => measure.Need)]),
            FieldsBehind = headline.ToImmutableDictionary(measure => measure.Id, measure => measure.Need.Fields, StringComparer.Ordinal),
            SkippedRules = engine.SkippedRules,
            SkippedFlags = engine.SkippedFlags(definitions.Flags),
        }, capture);
    }

    private static ILookup<string, SourceColumn> Columns(IEnumerable<Field> fields, IEnumerable<IngestedSource> sources) =>
        (from field in fields
         from source in sources
         where source.Stored.ProcedureFields.Contains(field.Name)
         let heading = source.Request.Mapping.Columns.FirstOrDefault(column => column.Field == field.Name)?.Column
         select (field.Name, Column: new SourceColumn(source.Request.File, heading))).ToLookup(pair => pair.Name, pair => pair.Column);
}
