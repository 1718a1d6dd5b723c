using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Measures.Catalogue;

/// <summary>The definitions that one run works by.</summary>
/// <param name="Dictionary">The shipped fields and the pipeline's own.</param>
/// <param name="Measures">The measures, headline ones first.</param>
/// <param name="Rules">The consistency rules.</param>
/// <param name="Flags">The flags that bring a record to review.</param>
/// <param name="Hash">SHA-256 over all of them: two runs with one hash asked the same questions.</param>
public sealed record DefinitionSet(
    FieldDictionary Dictionary, ImmutableArray<Measure> Measures, ImmutableArray<ConsistencyRule> Rules,
    ImmutableArray<Flag> Flags, string Hash)
{
    /// <summary>The columns that are worked out from others.</summary>
    public ImmutableArray<DerivedColumn> Derived { get; init; } = DerivedFile.Shipped;

    /// <summary>The sections of the report that split measures, and the agreement between answers held twice.</summary>
    public ImmutableArray<SectionDefinition> Sections { get; init; } = SectionFile.Shipped;

    /// <summary>Questions that were saved beside the pipeline: each run answers them in the appendix.</summary>
    public ImmutableArray<QuestionDefinition> Questions { get; init; } = [];
}
