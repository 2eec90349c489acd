"""What people entered of their own enclosures, kept to be entered again."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('advisor', '0002_accounts'),
        ('catalog', '0005_ownership'),
    ]

    operations = [
        migrations.CreateModel(
            name='TapeRecord',
            fields=[
                ('enclosure', models.OneToOneField(help_text='The enclosure that was derived from it.', on_delete=django.db.models.deletion.CASCADE, primary_key=True, related_name='tape_record', serialize=False, to='catalog.enclosure')),
                ('given', models.JSONField(help_text='The entry as it was given.')),
            ],
        ),
    ]
