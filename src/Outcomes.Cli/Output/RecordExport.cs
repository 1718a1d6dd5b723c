using Outcomes.Measures;

namespace Outcomes.Cli.Output;

/// <summary>The normalised records for researchers: those that count, after blanking, with their derived columns.</summary>
public static class RecordExport
{
    /// <summary>The files it will write; the engine is opened with leave to write these and no others.</summary>
    public static string[] Files(OutputFolder output) => [output.PathOf("data/records.parquet"), output.PathOf("data/attempts.parquet")];

    public static void Write(Engine engine, OutputFolder output)
    {
        var files = Files(output);
        engine.Export(files[0], files[1]);
    }
}
