namespace Outcomes.Reporting;
