using System.Collections.Immutable;
using Outcomes.Cli.Places;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>Whose set it is: a set of another pipeline or for another audience is never replaced unasked.</summary>
/// <param name="Pipeline">The pipeline's name.</param>
/// <param name="PipelineId">What tells it from another of the same name.</param>
/// <param name="Audience">For whom the set is, as files name it.</param>
public sealed record SetOwner(string Pipeline, string PipelineId, string Audience);

/// <summary>What stands in an output folder before a run: nothing, or a set of ours with the list of its files.</summary>
public sealed class StandingSet
{
    public const string ManifestName = "run.json";

    private const int Named = 3;

    private readonly string _folder;
    private readonly string _shown;
    private readonly ImmutableArray<FolderEntry> _entries;
    private readonly ManifestFacts? _manifest;
    private readonly ImmutableArray<string> _strangers = [];

    private StandingSet(string folder, string shown)
    {
        (_folder, _shown) = (folder, shown);
        if (!Directory.Exists(folder)) return;
        _entries = FileList.Entries(folder);
        if (_entries.IsEmpty) return;
        _manifest = RunManifest.Read(Path.Combine(folder, ManifestName)) ?? throw new Failure(ExitCode.Output,
            $"`{shown}` holds files that are not an earlier report of ours; name another folder with --out, or empty it");
        _strangers = [.. FileList.Strangers(
            folder, [.. _entries.Where(entry => entry.Path != ManifestName || !entry.IsFile)], _manifest.Files)];
    }

    /// <summary>True where every file of a set is there, each as it was written, and nothing else.</summary>
    public bool IsWhole => _manifest is not null && _strangers.IsEmpty && _manifest.Files.Count == _entries.Length - 1;

    /// <summary>Looks at a folder.</summary>
    /// <param name="folder">Its full path.</param>
    /// <param name="shown">The folder as the person named it.</param>
    /// <exception cref="Failure">It is a link or a file, or holds what is not a set of ours (exit 5).</exception>
    public static StandingSet Read(string folder, string shown)
    {
        if (new FileInfo(folder).LinkTarget is not null)
            throw new Failure(ExitCode.Output, $"`{shown}` is a link, and a set takes the place of its whole folder; "
                + "name the folder that the link leads to with --out");
        if (File.Exists(folder))
            throw new Failure(ExitCode.Output, $"`{shown}` is a file; name another folder with --out, or move the file");
        return new StandingSet(folder, shown);
    }

    /// <summary>Refuses to replace what is another's: of another pipeline, for another audience, or a person's.</summary>
    /// <exception cref="Failure">The folder holds such a thing (exit 5).</exception>
    public void RefuseOthers(SetOwner owner)
    {
        ArgumentNullException.ThrowIfNull(owner);
        if (_manifest is null) return;
        if (_manifest.PipelineId is null)
            throw NotReplaced("holds a report of an earlier version, which kept no list of its files");
        if (_manifest.PipelineId != owner.PipelineId)
            throw NotReplaced($"holds the report of another pipeline, `{_manifest.Pipeline}` for {Words(_manifest.Audience)}");
        if (_manifest.Audience != owner.Audience)
            throw NotReplaced($"holds a report for {Words(_manifest.Audience)}, and this one is for {Words(owner.Audience)}");
        if (!_strangers.IsEmpty)
            throw NotReplaced($"holds what Outcomes did not write there, or what was changed since: {Names(_strangers)}");
    }

    /// <summary>Refuses to replace what has changed since it was looked at.</summary>
    /// <exception cref="Failure">Something has (exit 5).</exception>
    public void RefuseChanges()
    {
        var now = Directory.Exists(_folder) ? FileList.Entries(_folder) : [];
        ImmutableArray<FolderEntry> before = _entries.IsDefault ? [] : _entries;
        var changed = now.Except(before).Select(entry => entry.Path).ToImmutableArray();
        if (!changed.IsEmpty) throw NotReplaced($"was changed while this run was under way: {Names(changed)}");
    }

    private static string Words(string? audience) => audience switch
    {
        "network" => "a network",
        null => "nobody named",
        _ => $"the {audience}",
    };

    private static string Names(ImmutableArray<string> names) =>
        string.Join(", ", names.Take(Named).Select(name => $"`{Outcomes.Reporting.Page.Encode.Visible(name)}`"))
        + (names.Length > Named
            ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $" and {names.Length - Named} more")
            : "");

    private Failure NotReplaced(string what) => new(ExitCode.Output,
        $"`{_shown}` {what}; nothing was touched. Name another folder with --out, move what is to be kept, "
        + "or replace the whole folder with --replace");
}
