using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Cases;

/// <summary>A flag that fired, with the values that made it.</summary>
public sealed record FiredFlag(string Id, string Title, Tier Tier, string Why, ImmutableArray<CaseFact> Values);

/// <summary>A heading and a value, as people read them.</summary>
public sealed record CaseFact(string Title, string Value);

/// <summary>Facts under a heading.</summary>
public sealed record FactGroup(string Title, ImmutableArray<CaseFact> Facts);

/// <summary>An attempt as the record tells it; what is not recorded is empty.</summary>
public sealed record CaseAttempt(string Number, string Plan, string Means, string View, string Operator, string Outcome, string Lowest,
    string Duration);

/// <summary>A moment of the procedure.</summary>
/// <param name="Seconds">Seconds from induction.</param>
/// <param name="What">What happened.</param>
public sealed record CaseMoment(double Seconds, string What);
