using System.Globalization;

namespace Outcomes.Synthetic.Export;

/// <summary>A folder that the pipeline runs as it stands: the exports, their mappings, the pipeline, and the truth.</summary>
public static class SyntheticFolder
{
    public const string Pipeline = "pipeline.yaml";
    public const string Procedures = "procedures.csv";
    public const string Attempts = "attempts.csv";
    public const string Traces = "traces.csv";
    public const string Tubes = "tubes-issued.csv";
    public const string TruthFile = "truth.json";

    public const string Changes = "changes.yaml";

    public const string Actions = "actions.yaml";

    /// <summary>Minutes of one earlier meeting.</summary>
    public const string Minutes = "minutes/minutes-2025-10.json";

    /// <summary>Fixed, so that the same seed gives the same case ids: nobody is behind an invented record.</summary>
    public const string CaseSalt = "case-salt.txt";

    private const string ProcedureMapping = "mappings/demo.yaml";
    private const string AttemptMapping = "mappings/attempts.yaml";
    private const string TraceMapping = "mappings/traces.yaml";

    /// <summary>
    /// Writes every file through <paramref name="open"/>, which gets a path relative to the folder, with forward slashes, and
    /// returns a writer of UTF-8 without BOM; each writer is disposed of. <paramref name="name"/> becomes the pipeline's name.
    /// </summary>
    public static Truth Write(SynthesisOptions options, string name, Func<string, TextWriter> open)
    {
        Truth truth;
        using (var procedures = open(Procedures))
        using (var attempts = open(Attempts))
        using (var traces = open(Traces))
            truth = ExportFiles.Write(options, procedures, attempts, traces);
        using (var tubes = open(Tubes))
            TubesIssued.Write(options, truth.Months, tubes);
        WriteText(open, TruthFile, TruthJson.Text(truth));
        WriteText(open, ProcedureMapping, Resource(ProcedureMapping));
        WriteText(open, AttemptMapping, Resource(AttemptMapping));
        WriteText(open, Changes, Resource(Changes));
        WriteText(open, Actions, Resource(Actions));
        WriteText(open, Minutes, Replace(Resource(Minutes), ("\"pipeline\": \"demo\"", $"\"pipeline\": \"{name}\"")));
        WriteText(open, CaseSalt, "A salt of invented records, the same for all; a department makes its own.\n");
        WriteText(open, TraceMapping, Resource(TraceMapping));
        WriteText(open, Pipeline, PipelineText(options, name));
        return truth;
    }

    /// <summary>The shipped monthly pipeline, pointed at this folder's own files and months.</summary>
    private static string PipelineText(SynthesisOptions options, string name)
    {
        var baseline = Math.Min(12, options.Months);
        return new[]
        {
            ("# The monthly report of the invented department. Copy this file and point it at your own export.",
                "# The monthly report of an invented department."),
            ("name: demo", $"name: {name}"),
            ("as_of: 2026-03-31", $"as_of: {options.LastDay.ToString("O", CultureInfo.InvariantCulture)}"),
            ("../synthetic-data/demo.csv", Procedures),
            ("../synthetic-data/attempts.csv", Attempts),
            ("../synthetic-data/traces.csv", Traces),
            ("../synthetic-data/tubes-issued.csv", Tubes),
            ("baseline: {from: 2023-04, months: 12}",
                $"baseline: {{from: {options.FirstMonth.ToString("yyyy-MM", CultureInfo.InvariantCulture)}, "
                    + $"months: {baseline.ToString(CultureInfo.InvariantCulture)}}}"),
        }.Aggregate(Resource(Pipeline), Replace);
    }

    /// <summary>Replaces what must be there: a shipped pipeline that no longer has it is a bug, not a file left as it was.</summary>
    private static string Replace(string text, (string Old, string New) change) => text.Contains(change.Old, StringComparison.Ordinal)
        ? text.Replace(change.Old, change.New, StringComparison.Ordinal)
        : throw new InvalidOperationException($"The shipped pipeline has no '{change.Old}'.");

    private static string Resource(string name)
    {
        using var stream = typeof(SyntheticFolder).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The resource {name} is not embedded.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }

    private static void WriteText(Func<string, TextWriter> open, string path, string text)
    {
        using var writer = open(path);
        writer.Write(text);
    }
}
