using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Places;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Store;
using Outcomes.Measures.Yaml;

namespace Outcomes.Cli.Output;

/// <summary>
/// What the last run into an output folder was made from and what it wrote, as hashes in the record store. A run that would be made
/// from the same, and finds every file of the set as it was written, has nothing to do.
/// </summary>
public sealed class PreviousRun
{
    private const string Ending = ".run";

    private readonly string _record;
    private readonly OutputFolder _output;
    private readonly string _madeFrom;

    private PreviousRun(string record, OutputFolder output, string madeFrom) => (_record, _output, _madeFrom) = (record, output, madeFrom);

    /// <param name="pipeline">The pipeline.</param>
    /// <param name="request">The settings of the command line.</param>
    /// <param name="sources">Its sources as read, which have been compared byte by byte on the way.</param>
    /// <param name="before">The case packs of earlier months, and earlier sets for others.</param>
    /// <param name="output">The output folder.</param>
    public static PreviousRun Of(
        PipelineDefinition pipeline, RunRequest request, IReadOnlyList<IngestedSource> sources,
        (EarlierPacks Packs, EarlierReports? Reports) before, OutputFolder output) =>
        new(Path.Combine(pipeline.Store, Hash(output.Place)[..32] + Ending), output,
            MadeFrom(pipeline, request with { Folder = new() }, sources, before));

    /// <summary>True when the folder holds the whole set of a run that was made from the same, and nothing else.</summary>
    public bool IsCurrent()
    {
        try
        {
            return _output.Standing.IsWhole && File.Exists(_record) && File.ReadAllText(_record) == Text();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <summary>
    /// Keeps what was written, once it is in its place. A record that cannot be kept costs the next run its time, nothing else.
    /// </summary>
    public void Remember()
    {
        try
        {
            File.WriteAllText(_record, Text());
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Tidy.Try(() => File.Delete(_record));
        }
    }

    /// <summary>Deletes every such record of a store.</summary>
    public static void Forget(string store)
    {
        foreach (var record in Directory.EnumerateFiles(store, "*" + Ending))
            File.Delete(record);
    }

    // What the set was made from, and its manifest, which lists every other file.
    private string Text() => $"{_madeFrom}\n{Checksums.Of(Path.Combine(_output.Place, StandingSet.ManifestName))}\n";

    private static string MadeFrom(
        PipelineDefinition pipeline, RunRequest request, IReadOnlyList<IngestedSource> sources,
        (EarlierPacks Packs, EarlierReports? Reports) before)
    {
        // A module's version id is a hash of what it was compiled from, the shipped definitions in it included.
        var text = new StringBuilder($"{Environment.Version} {System.Runtime.InteropServices.RuntimeInformation.ProcessArchitecture}\n");
        var own = typeof(PreviousRun).Assembly;
        text.Append(own.ManifestModule.ModuleVersionId).Append('\n');
        foreach (var name in own.GetReferencedAssemblies())
            text.Append(name.FullName).Append('|').Append(name.Name!.StartsWith("Outcomes.", StringComparison.Ordinal)
                ? Assembly.Load(name).ManifestModule.ModuleVersionId
                : default).Append('\n');
        text.Append(request).Append('\n');
        if (before.Reports is { } reports)
            text.Append("previous|").Append(reports.Fingerprint()).Append('\n');
        foreach (var (month, key) in before.Packs.Keys)
            text.Append("pack|").Append(month).Append('|').Append(Checksums.Of(key)).Append('\n');
        foreach (var (month, file) in EarlierPlans.Files(before.Packs))
            text.Append("plans|").Append(month).Append('|').Append(Checksums.Of(file)).Append('\n');
        foreach (var source in sources)
            text.Append(source.Request.Name).Append('|').Append(source.Request.File).Append('|')
                .Append(Path.GetFileName(source.Stored.Folder)).Append('|').Append(source.Manifest.Sha256).Append('\n');
        var read = sources.Select(source => source.Request.Path).ToHashSet(StringComparer.Ordinal);
        foreach (var file in Named(pipeline).Where(file => !read.Contains(file)).Distinct().Order(StringComparer.Ordinal))
            text.Append(Path.GetRelativePath(pipeline.Folder, file)).Append('|').Append(Checksums.Of(file)).Append('\n');
        return Hash(text.ToString());
    }

    // The pipeline's file and every file that a text in it names, whatever the key: a key that is added later is not forgotten here.
    private static IEnumerable<string> Named(PipelineDefinition pipeline)
    {
        yield return pipeline.Path;
        yield return CaseSalt.PathOf(pipeline);
        foreach (var text in YamlFile.ReadPath(pipeline.Path, pipeline.File).Texts().Where(text => text.Length > 0))
            if (Path.GetFullPath(Path.Combine(pipeline.Folder, text)) is var path && File.Exists(path))
                yield return path;
            else if (text.AsSpan().IndexOfAny('*', '?') >= 0 && Directory.Exists(Path.GetDirectoryName(path)))
                foreach (var file in Directory.EnumerateFiles(Path.GetDirectoryName(path)!, Path.GetFileName(path)))
                    yield return file;
            else if (Directory.Exists(path) && path != pipeline.Store)
                foreach (var file in Directory.EnumerateFiles(path, "*.yaml").Concat(Directory.EnumerateFiles(path, "*.json")))
                    yield return file;
    }

    private static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
