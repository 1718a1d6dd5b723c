using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>The normalised records for researchers: those that count, after blanking, with their derived columns.</summary>
public static class RecordExport
{
    /// <summary>The files it will write; the engine is opened with leave to write these and no others.</summary>
    public static string[] Files(OutputFolder output) => [output.PathOf(RecordSchemas.Records), output.PathOf(RecordSchemas.Attempts)];

    /// <summary>Writes both files; what they hold is returned as their schemas.</summary>
    public static ImmutableArray<TableSchema> Write(Engine engine, OutputFolder output)
    {
        var files = Files(output);
        return RecordSchemas.Of(engine.Export(files[0], files[1]));
    }
}
