using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Cli.Output;

/// <summary>
/// What a record store notes of a set for others, and no record: what it was made from (of each file a hash of where it lies, and the hash
/// of its bytes), the measures that it could have shown with a hash of their definitions, the counts of its periods before rounding, and
/// all counts of the periods that it was the first to show.
/// </summary>
internal sealed record ReleaseNote(
    string Pipeline, string Audience, string Month, ImmutableArray<NotedSource> Sources, ImmutableSortedDictionary<string, string> Measures,
    ImmutableArray<NotedCell> Cells)
{
    public bool IsOf(string pipeline, string audience) => Pipeline == pipeline && Audience == audience;
}

internal sealed record NotedSource(string Path, string Sha256);

internal sealed record NotedCell(
    string Measure, string From, string To, string Stratum, string Level, long Met, long Eligible, long Missing, bool Exact,
    bool Shown)
{
    public static NotedCell Of(EarlierCell cell) => new(cell.Measure, cell.From.ToString(), cell.To.ToString(), cell.Stratum, cell.Level,
        cell.Count.Met, cell.Count.Eligible, cell.Count.Missing, cell.Exact,
        cell.Shown);

    public EarlierCell Cell() => Outcomes.Records.Month.TryParse(From, out var from) && Outcomes.Records.Month.TryParse(To, out var to)
        ? new(Measure, from, to, Stratum, Level, new Count(Met, Eligible, Missing)) { Exact = Exact, Shown = Shown }
        : throw new JsonException();
}

/// <summary><c>released.json</c> of a record store. <c>outcomes forget</c> leaves it: what was given out stays given out.</summary>
internal static class ReleaseNotes
{
    public const string FileName = "released.json";

    private const string StoresName = ".outcomes";

    /// <summary>The notes of a store; empty where there are none.</summary>
    /// <exception cref="Failure">They cannot be read (exit 4).</exception>
    public static ImmutableArray<ReleaseNote> Read(string store)
    {
        var path = Path.Combine(store, FileName);
        try
        {
            return File.Exists(path)
                ? [.. JsonSerializer.Deserialize(File.ReadAllBytes(path), NotesJson.Default.ReleaseNoteArray) ?? []]
                : [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            throw new Failure(ExitCode.Input,
                $"`{path}`, which says what was given to others, cannot be read, so nothing was written; put it "
                    + "back from a backup, or delete it and name the folders of all earlier sets with --previous");
        }
    }

    /// <summary>The notes of the other pipelines whose stores lie beside this one, as they do without <c>store:</c>.</summary>
    /// <exception cref="Failure">Some cannot be read (exit 4).</exception>
    public static ImmutableArray<ReleaseNote> Beside(string store)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(store));
        return Path.GetDirectoryName(full) is { } parent && Path.GetFileName(parent) == StoresName && Directory.Exists(parent)
            ? [.. Directory.EnumerateDirectories(parent).Where(other => other != full).Order(StringComparer.Ordinal)
                .SelectMany(other => Read(other))]
            : [];
    }

    /// <summary>Keeps the notes in place of those that were there.</summary>
    /// <exception cref="Failure">The store cannot be written (exit 5).</exception>
    public static void Write(string store, IEnumerable<ReleaseNote> notes)
    {
        var path = Path.Combine(store, FileName);
        try
        {
            using (var file = File.Create(path + ".part"))
                JsonDocuments.Write(file, [.. notes], NotesJson.Default.ReleaseNoteArray);
            File.Move(path + ".part", path, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{path}`, which says what was given to others, cannot be written; make the record store "
                + "writable, or set `store:` in the pipeline to a folder that is");
        }
    }
}

/// <summary>Reads and writes notes, compiled with the tool.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(ReleaseNote[]))]
internal sealed partial class NotesJson : JsonSerializerContext;
