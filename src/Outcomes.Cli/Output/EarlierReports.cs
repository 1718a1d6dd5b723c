using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Cli.Definitions;
using Outcomes.Ingestion;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;

namespace Outcomes.Cli.Output;

/// <summary>
/// Sets that were given to others before: noted in the record store, lying beside the output folder, or named. A new one shows of their
/// periods what they showed, so that no difference tells of a late or corrected record.
/// </summary>
public sealed class EarlierReports
{
    /// <summary>In place of a folder: no earlier set of this pipeline has left the department.</summary>
    public const string NoneWord = "none";

    private readonly PipelineDefinition _pipeline;
    private readonly Month _month;
    private readonly bool _anew;
    private readonly ImmutableArray<ReleaseNote> _own;
    private readonly ImmutableArray<ReleaseNote> _others;
    private readonly ImmutableArray<EarlierSet> _sets;

    private EarlierReports(PipelineDefinition pipeline, Month month, bool anew, ImmutableArray<EarlierSet> sets)
    {
        (_pipeline, _month, _anew, _sets) = (pipeline, month, anew, sets);
        _own = Own();
        _others = ReleaseNotes.Beside(pipeline.Store);
    }

    /// <summary>Months before this run's of which a set of this pipeline for these readers is known.</summary>
    public int Compared => Months(_month).Count();

    /// <summary>Finds them; null for the department, which hides nothing.</summary>
    /// <exception cref="Failure">
    /// A folder is not a set for this audience (exit 2); a set, or one that it followed, cannot be read (exit 4).
    /// </exception>
    public static EarlierReports? Find(PipelineDefinition pipeline, RunRequest request, Month month, string outFolder)
    {
        ArgumentNullException.ThrowIfNull(pipeline);
        ArgumentNullException.ThrowIfNull(request);
        if (pipeline.Audience == Audience.Department)
            return request.Previous.Count == 0 ? null : throw new Failure(ExitCode.Usage,
                "--previous is for a report to a network or the public; a report to the department hides nothing");
        var word = Word(pipeline.Audience);
        var anew = request.Previous.Contains(NoneWord);
        if (anew && request.Previous.Count > 1)
            throw new Failure(ExitCode.Usage, "--previous none says that no earlier set has left the department; name folders or `none`");
        if (anew) return new(pipeline, month, anew, []);
        var exact = DisclosureRule.For(pipeline.Audience)!.RoundTo == 1;
        var named = request.Previous.Select(folder => EarlierSet.ReadManifest(folder) is { } manifest && manifest.Audience == word
            ? EarlierSet.Read(folder, manifest, exact)
            : throw new Failure(ExitCode.Usage, $"`{folder}` holds no earlier report for {word}; name the folder of one with --previous"));
        var beside = Beside(outFolder).Select(folder => (Folder: folder, Manifest: EarlierSet.ReadManifest(folder)))
            .Where(each => each.Manifest is { } manifest && manifest.Pipeline == pipeline.Name && manifest.Audience == word)
            .Select(each => EarlierSet.Read(each.Folder, each.Manifest!, exact)).OrderBy(set => set.Manifest.Month);
        var found = new EarlierReports(pipeline, month, anew, [.. named, .. beside]);
        found.RefuseGaps();
        return found;
    }

    /// <summary>What they showed; of two that showed one period the first counts.</summary>
    /// <param name="sources">The sources of this run.</param>
    public ImmutableArray<EarlierRelease> Releases(IEnumerable<IngestedSource> sources)
    {
        NotedSource[] read = [.. sources.Select(Noted)];
        var word = Word(_pipeline.Audience);
        var noted = _own.Concat(_others).Select(note => (Note: note, Kinship: KinshipOf(note, read)))
            .Where(each => each.Kinship is not null)
            .ToLookup(each => each.Note.IsOf(_pipeline.Name, word) && each.Kinship == true);
        return
        [
            .. noted[true].OrderBy(each => each.Note.Month, StringComparer.Ordinal).Select(Release),
            .. _sets.Select(set => new EarlierRelease(_pipeline.Audience, SameRecords: true, set.Manifest.Measures, set.Cells)
            {
                Through = set.Manifest.Month,
            }),
            .. noted[false].OrderBy(each => each.Note.Audience == word ? 0 : 1).ThenBy(each => each.Note.Month, StringComparer.Ordinal)
                .Select(Release),
        ];

        static EarlierRelease Release((ReleaseNote Note, bool? Kinship) each) => new(AudienceOf(each.Note.Audience), each.Kinship!.Value,
            each.Note.Measures.ToImmutableDictionary(), [.. each.Note.Cells.Select(cell => cell.Cell())]);
    }

    /// <summary>Notes a set in the record store, in the place of what was noted of its month.</summary>
    /// <exception cref="Failure">The store cannot be written (exit 5).</exception>
    public void Note(IEnumerable<Measure> measures, IEnumerable<IngestedSource> sources, IEnumerable<EarlierCell> cells)
    {
        var note = new ReleaseNote(_pipeline.Name, Word(_pipeline.Audience), _month.ToString(), [.. sources.Select(Noted)],
            measures.ToImmutableSortedDictionary(measure => measure.Id, SharedCounts.Definition, StringComparer.Ordinal),
            [.. cells.Select(NotedCell.Of)]);
        // Another run may have noted its own meanwhile. What all counts were is kept once, with the set that showed the period first.
        ReleaseNote[] others = [.. Own().Where(each => !IsThis(each))];
        var kept = others.Where(each => each.Pipeline == note.Pipeline).SelectMany(each => each.Cells).Where(cell => !cell.Shown)
            .Select(cell => (cell.From, cell.To)).ToHashSet();
        ReleaseNotes.Write(_pipeline.Store,
            [.. others, note with { Cells = [.. note.Cells.Where(cell => cell.Shown || !kept.Contains((cell.From, cell.To)))] }]);
    }

    /// <summary>Tells whether a set that is there was made after the same earlier ones.</summary>
    internal string Fingerprint()
    {
        var text = new StringBuilder();
        foreach (var note in _own.Concat(_others).Where(note => !IsThis(note)))
            text.Append(note.Pipeline).Append('|').Append(note.Audience).Append('|').Append(note.Month).Append('|')
                .AppendJoin(';', note.Cells).Append('\n');
        foreach (var set in _sets.Where(set => set.Manifest.Month != _month || set.Manifest.Pipeline != _pipeline.Name))
            text.Append(set.Manifest.Month).Append('|').AppendJoin(';', set.Cells).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    /// <summary>An audience as files name it.</summary>
    public static string Word(Audience audience) => audience switch
    {
        Audience.Department => "department",
        Audience.Network => "network",
        _ => "public",
    };

    private static Audience AudienceOf(string word) => word == Word(Audience.Network) ? Audience.Network : Audience.Public;

    // The folder that is replaced is one of them.
    private static IEnumerable<string> Beside(string outFolder) =>
        Path.GetDirectoryName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(outFolder))) is { } parent && Directory.Exists(parent)
            ? Directory.EnumerateDirectories(parent).Order(StringComparer.Ordinal)
            : [];

    // Where a file lies is personal enough in places; its hash tells as well whether two are one.
    private static NotedSource Noted(IngestedSource source) => new(
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(source.Request.Path))), source.Manifest.Sha256);

    private ImmutableArray<ReleaseNote> Own() => [.. ReleaseNotes.Read(_pipeline.Store)
        .Where(note => !_anew || !note.IsOf(_pipeline.Name, Word(_pipeline.Audience)))];

    private bool IsThis(ReleaseNote note) => note.IsOf(_pipeline.Name, Word(_pipeline.Audience)) && note.Month == _month.ToString();

    // True: of the same records. False: of some of them. Null: of none, as far as files tell.
    private bool? KinshipOf(ReleaseNote note, NotedSource[] read)
    {
        if (note.Pipeline == _pipeline.Name && _own.Contains(note)) return true;
        var (paths, bytes) = (read.Select(each => each.Path).ToHashSet(), read.Select(each => each.Sha256).ToHashSet());
        if (paths.SetEquals(note.Sources.Select(each => each.Path)) || bytes.SetEquals(note.Sources.Select(each => each.Sha256)))
            return true;
        return note.Sources.Any(each => paths.Contains(each.Path) || bytes.Contains(each.Sha256)) ? false : null;
    }

    private IEnumerable<Month> Months(Month before) => _own.Where(note => note.IsOf(_pipeline.Name, Word(_pipeline.Audience)))
        .Select(note => Month.TryParse(note.Month, out var month) ? month : before)
        .Concat(_sets.Select(set => set.Manifest.Month)).Where(month => month < before).Distinct();

    // A set says how many it followed: with one of them unknown, nobody knows what it showed.
    private void RefuseGaps()
    {
        foreach (var set in _sets)
            if (Months(set.Manifest.Month).Count() is var known && known < set.Manifest.Compared)
                throw new Failure(ExitCode.Input,
                    $"the set of {set.Manifest.Month} in `{set.Folder}` was made after {set.Manifest.Compared} earlier "
                        + $"ones, of which {known} "
                        + "are here, so nothing was written; name the folders of all that left the department with --previous");
    }
}
