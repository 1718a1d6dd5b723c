using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>Definitions are checked before anything is read, so that a wrong one costs no time; what no source collects is told.</summary>
public sealed partial class Engine
{
    /// <summary>Rules that some source cannot be judged by, because it does not collect a field they name.</summary>
    public ImmutableArray<SkippedRule> SkippedRules =>
        [.. from rule in _options.Rules
            from source in _collection.RecordSources
            let fields = _collection.Lacking(source, Expressions.Names(_definitions.Condition(rule.Expect)))
            where fields.Length > 0
            select new SkippedRule(rule.Id, source.Name, fields)];

    /// <summary>Flags that some source cannot be judged by, because it does not collect a field they name.</summary>
    public ImmutableArray<SkippedFlag> SkippedFlags(IReadOnlyList<Flag> flags)
    {
        Check(flags);
        return [.. from flag in flags
            from source in _collection.RecordSources
            let fields = _collection.Lacking(source, Expressions.Names(_definitions.Condition(flag.When)))
            where fields.Length > 0
            select new SkippedFlag(flag.Id, source.Name, fields)];
    }

    /// <summary>Checks flags without running them; a wrong one is a <see cref="Failure"/> with file and line.</summary>
    public void Check(IReadOnlyList<Flag> flags)
    {
        _definitions.Add(flags.Select(flag => new Written(flag.When, $"flag {flag.Id}", flag.File, flag.Line, Kind.YesNo)));
        foreach (var (flag, name) in flags.SelectMany(flag => flag.Shows.Select(name => (flag, name))))
            if (_definitions.Scope.Find(name) is null)
                throw Failure.Definition(flag.File, flag.Line,
                    $"flag {flag.Id}, shows: {TypeCheck.Unknown(name, _definitions.Scope).Message}");
    }

    /// <summary>Checks definitions without running them; a wrong one is a <see cref="Failure"/> with file and line.</summary>
    public void Check(IReadOnlyList<Measure> measures, IReadOnlyList<string> strata)
    {
        _definitions.Add(measures);
        foreach (var stratum in strata)
            if (_definitions.Scope.Find(stratum) is null)
                throw new Failure(ExitCode.Definition, "strata: " + TypeCheck.Unknown(stratum, _definitions.Scope).Message);
    }

    /// <summary>
    /// Checks that conditions could use these names; one that they could not is a <see cref="Failure"/> that begins with the key.
    /// </summary>
    public void CheckNames(string key, IEnumerable<string> names)
    {
        foreach (var name in names)
            if (_definitions.Scope.Find(name) is null)
                throw new Failure(ExitCode.Definition, $"{key}: " + TypeCheck.Unknown(name, _definitions.Scope).Message);
    }

    /// <summary>Checks a section without counting it; a wrong name or condition is a <see cref="Failure"/> with file and line.</summary>
    public void Check(SectionDefinition section)
    {
        ArgumentNullException.ThrowIfNull(section);
        var names = section.Strata.Concat(section.Compare?.Within ?? []);
        foreach (var name in names)
            if (_definitions.Scope.Find(name) is null)
                throw Failure.Definition(section.File, section.Line,
                    $"section {section.Id}: {TypeCheck.Unknown(name, _definitions.Scope).Message}");
        if (section.Compare is { } compare && _definitions.Scope.Get(compare.By).Kind != Kind.YesNo)
            throw Failure.Definition(section.File, section.Line,
                $"section {section.Id}, compare: `{compare.By}` is not yes or no; name a yes/no field or derived column");
        if (section.Among is { } among)
            _definitions.Add([new Written(among, $"section {section.Id}, among", section.File, section.Line, Kind.YesNo)]);
        foreach (var pair in section.Agreement)
            _definitions.Add(pair.Answers.SelectMany(answer => (string[])[answer.First, answer.Second])
                .Select(condition => new Written(condition, $"section {section.Id}, agreement {pair.Id}", section.File,
                    pair.Line, Kind.YesNo)));
    }
}
