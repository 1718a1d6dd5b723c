namespace Outcomes.Analysis;

/// <summary>Who may read what is written.</summary>
public enum Audience
{
    /// <summary>The department itself: small numbers are shown, and every page says so.</summary>
    Department,
    Network,
    Public,
}
